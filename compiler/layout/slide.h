/* Part of layout: a figure laid out anew for a projector.
   needs  a scene.
   gives  a page of the slide's size: the room of its heading is left out, the figure stands in the middle of what the
          caption strip leaves. Lines, letters and captions keep their sizes; only the figure grows or shrinks to fit.
   never  moves things apart from each other; never gives another size at another step. */
#ifndef SG_SLIDE_H
#define SG_SLIDE_H
#include "layout/layout.h"

/* A slide is a small sheet, filled by the screen: at 1920 x 1080 a millimetre of it is 11.43 pixels, so the widths and sizes of
   print come out as a projector wants them: rays 4 px, the axis 2, the smallest letters 28, captions 44, dots 12.6, heads 28.
   (Least sizes: rays 4, axis 2, letters 28, captions 36, dots 12, heads 22; common practice.) */
typedef enum { SG_SLIDE_16_9, SG_SLIDE_4_3 } SgSlideRatio;
#define SG_SLIDE_HIGH_MM 94.5
#define SG_SLIDE_HEADING_MM 9.0
double sg_slide_wide_mm(SgSlideRatio ratio);           /* 168 or 126 */

/* The page is as wide as the slide and, with its strip, as high as the slide without its heading. Says nothing: whoever wants
   messages lays the scene out for paper too. */
/* What a slide is drawn on. The styles light and dark differ in colours alone, so a page of slides turns one into the other by
   its pairs of colours; an author's own colours stay as they are. */
typedef enum { SG_GROUND_LIGHT, SG_GROUND_DARK, SG_GROUND_OWN } SgGround;
SgGround sg_slide_ground(const SgScene *scene);
typedef struct { uint32_t light_rgb, dark_rgb; } SgColourPair;
enum { SG_COLOUR_PAIRS = SG_COLOURS + 5 };
void sg_slide_colours(SgColourPair pair[SG_COLOUR_PAIRS]);     /* the first pair of a colour counts */

SgPage *sg_slide(SgCompile *c, const SgScene *scene, SgSlideRatio ratio);
/* Small, for a place beside a text: at most so wide and so high, words in their sizes. Says nothing either. */
SgPage *sg_slide_small(SgCompile *c, const SgScene *scene, double w_mm, double h_mm);
#endif
