/* Inside the scene stage: the figure in sentences. Text comes as markup, so that names and captions may be joined to it; the
   layout takes the markup off. */
#ifndef SG_DESCRIBE_H
#define SG_DESCRIBE_H
#include "scene/build.h"

typedef struct {
    SgStage *g;
    const SgWording *w;
    SgBuf *out;
    bool whole;                /* answers are told too */
    bool *answer;              /* a symbol each: what it is depends on light, images or a find */
} SgTell;

SgStr sg_tell_name(const SgTell *t, uint32_t symbol);               /* as the figure shows it */
SgStr sg_tell_ray(const SgTell *t, uint32_t symbol);                /* its number */
SgStr sg_tell_length(const SgTell *t, double mm);
SgStr sg_tell_angle(const SgTell *t, double deg);
SgStr sg_tell_count(const SgTell *t, uint32_t n);
SgStr sg_tell_point(const SgTell *t, const SgExpr *e, bool from);   /* as after "from", or as after "through" */
bool sg_tell_depends(const SgTell *t, const SgExpr *e);             /* on light, an image or a find */
bool sg_tell_seen(const SgTell *t, uint32_t symbol);                /* drawn, and not hidden */
bool sg_tell_told(const SgTell *t, uint32_t symbol);                /* seen, and no answer where only what is given is told */
const SgMark *sg_tell_mark_of(const SgTell *t, const SgStatement *st);        /* the mark that a statement has made; NULL: none */
/* One sentence after the others. */
void sg_tell(const SgTell *t, SgTextId id, const SgHole *hole, uint32_t n);
#define SG_TELL(t, id, ...) sg_tell((t), (id), SG_HOLES(__VA_ARGS__))
/* The same of a thing: its name goes into {name}. No sentence begins with a small letter: a name that does so at the head of one
   takes its noun before it ("The lens l"). */
void sg_tell_of(const SgTell *t, uint32_t symbol, SgTextId id, const SgHole *hole, uint32_t n);
#define SG_TELL_OF(t, symbol, id, ...) sg_tell_of((t), (symbol), (id), SG_HOLES(__VA_ARGS__))

void sg_tell_element(const SgTell *t, uint32_t symbol);             /* mirrors, lenses, boundaries, stops, screens */
void sg_tell_focal(const SgTell *t, uint32_t symbol);               /* what its faces come to */
void sg_tell_object(const SgTell *t, uint32_t symbol);
void sg_tell_image(const SgTell *t, uint32_t symbol);
void sg_tell_light(const SgTell *t, uint32_t symbol);               /* a ray, beam or fan */
void sg_tell_mark(const SgTell *t, const SgStatement *st);          /* anything else that is drawn, and cues */
void sg_scene_brief(SgStage *g, SgTell *t, SgScene *scene);     /* the short texts */
void sg_tell_level(const SgTell *t, uint32_t symbol);               /* how far off the axis it stands */
/* Where a thing stands against the nearest thing light meets, in words and in numbers; false: there is none, or it is not told. */
void sg_tell_placed(const SgTell *t, uint32_t symbol, const SgExpr *at);
bool sg_tell_place(const SgTell *t, uint32_t symbol, const SgExpr *at, uint32_t *other, double *beyond_mm);
bool sg_tell_place_of(const SgTell *t, uint32_t symbol, SgPoint p, uint32_t *other, double *beyond_mm);        /* symbol UINT32_MAX: a free point */
#endif
