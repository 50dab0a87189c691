/* Inside the scene stage: what its files share. */
#ifndef SG_SCENE_BUILD_H
#define SG_SCENE_BUILD_H
#include "scene/scene.h"
#include "solved/build.h"

typedef struct {
    SgCompile *c;
    SgSolved *s;
    const SgScope *scope;
    SgScenePart part;
    bool *arc;                 /* a symbol each: this mirror is drawn as its arc */
    SgBox things;              /* all that stands still: elements, objects, images, points drawn */
    double end_right_mm, end_left_mm, end_height_mm;     /* where leaving rays end */
    SG_VEC(SgMark) marks;
    SgPoint last_end;          /* of the ray drawn last */
    uint32_t *light;           /* a symbol each: number of its light, 0 none */
} SgStage;

SgMark sg_mark_new(SgStage *g, const SgStatement *st, SgRole role);
SgMark *sg_mark_add(SgStage *g, SgMark m, const SgPoint *xy, uint32_t n);
SgStr sg_mark_words(SgStage *g, const SgStatement *st);          /* named, unnamed, or its name */
bool sg_is_hidden(const SgStatement *st);
bool sg_in_part(const SgStage *g, uint32_t symbol);              /* whether its statement belongs to what is drawn */
bool sg_image_drawn(const SgStage *g, const SgImage *im);        /* finite and on the page */
int sg_first_use(const SgStage *g, uint32_t symbol, const char *property);     /* step; -1 never */

bool sg_scene_arc(SgCompile *c, const SgSolved *s, SgSolved *const *uses, uint32_t nuses, uint32_t symbol, bool paper);
void sg_scene_extent(SgStage *g);
void sg_scene_points(SgStage *g, uint32_t symbol);               /* F, C, 2F of an element */
void sg_scene_rays(SgStage *g, uint32_t symbol);                 /* a ray, or all of a beam or fan */
void sg_scene_produced(SgStage *g, uint32_t image);              /* rays produced back to a virtual image */
void sg_scene_angle(SgStage *g, const SgStatement *st);
/* Marks of one statement (lines, circles, normals, tools, ...); false when it is none of these. */
bool sg_scene_measure(SgStage *g, const SgStatement *st);
/* What the author calls an automatic point; false when it is left out. */
bool sg_scene_letter(SgStage *g, const SgStatement *st, const char *letter, SgStr *words, bool *asked);
void sg_scene_middle(SgStage *g, uint32_t symbol);               /* the vertex or centre, when it has a letter */
uint32_t sg_scene_ticks(SgStage *g, const SgStatement *st, SgPhraseId id);
/* The principal axis as the author wants it; false: none. */
bool sg_scene_axis(SgStage *g, SgMark *m, SgPoint *xy);
bool sg_scene_unequal(SgStage *g, const SgStatement *st, const char *what);      /* says that it cannot be under unequal scales */
void sg_scene_cut(const SgStage *g, const SgPath *p, uint32_t k, SgPoint *in, SgPoint *out);     /* where the legs that meet at hit k are cut */
void sg_scene_cues(SgStage *g);                                  /* show, fade, hide, emphasise */
SgStr sg_scene_slide_scale(SgSolved *s);                          /* of the scale's words what is still so on a slide */
void sg_scene_describe(SgStage *g, SgScene *scene);              /* its long and short texts, once its steps have captions */
#endif
