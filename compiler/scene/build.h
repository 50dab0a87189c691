/* Inside the scene stage: what its files share. */
#ifndef SG_SCENE_BUILD_H
#define SG_SCENE_BUILD_H
#include "scene/scene.h"
#include "solved/build.h"

typedef struct {
    SgCompile *c;
    SgSolved *s;
    const SgScope *scope;
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
bool sg_image_drawn(const SgStage *g, const SgImage *im);        /* finite and on the page */
int sg_first_use(const SgStage *g, uint32_t symbol, const char *property);     /* step; -1 never */

bool sg_scene_arc(SgCompile *c, const SgSolved *s, SgSolved *const *uses, uint32_t nuses, uint32_t symbol);
void sg_scene_extent(SgStage *g);
void sg_scene_points(SgStage *g, uint32_t symbol);               /* F, C, 2F of an element */
void sg_scene_rays(SgStage *g, uint32_t symbol);                 /* a ray, or all of a beam or fan */
void sg_scene_produced(SgStage *g, uint32_t image);              /* rays produced back to a virtual image */
void sg_scene_angle(SgStage *g, const SgStatement *st);
SgStr sg_scene_describe(SgStage *g, SgStr title);
#endif
