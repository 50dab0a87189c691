/* Pages damaged on purpose, one number or thing at a time, so that each rule is seen to see.
   in: a good page. out: a copy with one fault. never: touches the page it was given. */
#ifndef TEST_FIGURE_DAMAGE_H
#define TEST_FIGURE_DAMAGE_H
#include "rules.h"

typedef enum {
    RAY_THIN, DASH_LONG, HEAD_DROPPED, HEAD_SLID, SISTER_SLID, LIGHT_STOPPED, END_SHORT, RAY_SHIFTED, BEND_MOVED, FOOT_LIFTED, DOT_MOVED, DOT_LARGE,
    FOCUS_MOVED, FACE_TURNED, IMAGE_MOVED, HATCH_FLIPPED, WING_TURNED, PUPIL_MISSED, WORDS_ON_RAY, WORDS_CLOSE, WORDS_LOST, WORDS_SMALL, LETTER_SLANTED, SPACE_WIDE, LETTER_FAR, NAME_SUNK, WORDS_ACROSS, NAME_STRAYED, NUMBER_FAR,
    LENGTH_OFF, ROWS_CLOSE, ARC_SMALL, ARCS_UNLIKE, SQUARE_BENT, NORMAL_SHORT, AXIS_LONG, NAME_INWARD, FRAME_TIGHT, RAY_PALE, WORDS_COLOURED, STEP_LATE, DAMAGES
} Damage;
typedef struct { const char *rule, *says; } DamageName;
extern const DamageName damages[DAMAGES];

SgPage page_copy(SgArena *a, const SgPage *page);
bool page_damage(SgArena *a, const SgScene *scene, SgPage *page, Damage what);         /* false: nothing of the sort to damage */
#endif
