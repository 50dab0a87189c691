/* Inside the presentation writer: what its files share. */
#ifndef SG_ODP_BUILD_H
#define SG_ODP_BUILD_H
#include "layout/slide.h"
#include "output/odp.h"
#include "output/order.h"

/* A slide is this high on an office program's paper; its page was laid out for another height, and is enlarged to this. */
#define SG_ODP_HIGH_MM 180.0
#define SG_ODP_TITLE_EM_MM 7.2
#define SG_FACE_ASCENT 0.905           /* of the face, in em: 1854 / 2048 by its hhea table; the first baseline of a frame */
#define SG_NOTES_W_MM 210.0
#define SG_NOTES_H_MM 297.0

/* Looks that shapes and words share, each written once as a style. */
typedef enum { SG_ODP_STROKE, SG_ODP_FILL } SgOdpPaint;
typedef struct { SgOdpPaint paint; uint32_t rgb; double line_mm; uint32_t dash; bool round; } SgOdpLook;  /* dash: from 1; 0 none */
typedef struct { SgFace face; uint32_t rgb; double em_mm; int rise, size; } SgOdpLetters;              /* rise, size: per cent of the line's em */
typedef struct { double length_mm[4]; uint8_t n; } SgOdpDash;
typedef struct { uint32_t paper_rgb; } SgOdpGround;

/* What appears, and may change, together: a group or a single shape. */
typedef struct {
    uint32_t id;               /* its xml:id is p and this */
    int step;                  /* it appears with */
    const SgCue *cue; uint32_t ncues;
    char from;                 /* light draws itself from the left, right, top or bottom: l r t b; 0: it appears */
    double from_mm, to_mm;     /* of its light's way */
} SgOdpPiece;

typedef struct {
    SgArena *a;
    SgBuf body;                /* the slides */
    const SgPage *page;
    SgChains chain;
    double scale, top_mm;      /* of the page on its slide */
    double wide_mm;            /* of a slide */
    uint32_t ids, now;         /* now: its ground, from 1 */
    SG_VEC(SgOdpLook) look;
    SG_VEC(SgOdpLetters) letters;
    SG_VEC(SgOdpDash) dash;
    SG_VEC(double) em;         /* of paragraphs */
    SG_VEC(SgOdpGround) ground;/* of slides */
    SG_VEC(SgOdpPiece) piece;  /* of the slide */
    uint32_t *caption, *question;      /* ids of the frames of each step; 0 none */
} SgOdp;

/* Shapes. */
void sg_odp_length(SgBuf *b, const char *opening, double mm);          /* ` svg:x="12.5mm"` */
void sg_odp_items(SgOdp *o);                                           /* the whole figure; fills o->piece */
/* The runs of a line as spans of a paragraph that has begun, `scale` times their size. */
void sg_odp_spans(SgOdp *o, const SgWords *w, double scale, uint32_t rgb);
uint32_t sg_odp_letters(SgOdp *o, SgOdpLetters l);                     /* the number of the style, t and this */
void sg_odp_paragraph(SgOdp *o, double em_mm);                         /* begins one */
void sg_odp_put_styles(const SgOdp *o, SgBuf *out);                    /* the automatic styles of all these */
void sg_odp_put_dashes(const SgOdp *o, SgBuf *out);                    /* the named dashes of the common styles */
/* Steps: the clicks of a slide, from its pieces and its captions. */
void sg_odp_timeline(SgOdp *o);
#endif
