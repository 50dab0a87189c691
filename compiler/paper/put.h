/* Part of paper: the page under way. Items are put in drawing order, in page millimetres, y down. */
#ifndef SG_PUT_H
#define SG_PUT_H
#include "paper/paper.h"

typedef struct {
    SgCompile *c;
    double w_mm, h_mm;
    SG_VEC(SgItem) item;
    SG_VEC(SgPicture) picture;
    SG_VEC(const SgPage *) page;
    SgStr id, title;
    const SgWording *wording;
} SgSheaf;                     /* a sheaf of pages, the last one under way */

#define SG_INK_RGB 0x091A20
#define SG_KEY_RGB 0xA8201A    /* the answer's one more ink: 7.3 : 1 on white */
#define SG_RULE_RGB 0x5A676C   /* lines to write on: grey, and still there on a photocopy */

void sg_put_rule(SgSheaf *p, SgPoint a, SgPoint b, double line_mm, uint32_t rgb);
void sg_put_frame(SgSheaf *p, SgPoint corner, double w_mm, double h_mm, double line_mm, uint32_t rgb);
void sg_put_words_at(SgSheaf *p, SgPoint baseline, const SgWords *words, uint32_t rgb);
/* One line of markup; returns its width. */
double sg_put_text(SgSheaf *p, SgPoint baseline, SgStr markup, SgFace face, double size_pt, uint32_t rgb);
/* Lines of markup, the first baseline at `at`; returns their number. draw: else they are only counted. */
uint32_t sg_put_lines(SgSheaf *p, SgPoint at, SgStr markup, SgFace face, double size_pt, double width_mm, double lead_mm, uint32_t rgb, bool draw);
/* A figure's items of one step (-1 all) with its corner at `corner`; in one ink; tints and white stay. */
void sg_put_figure(SgSheaf *p, SgPoint corner, const SgPage *figure, int step, uint32_t rgb);
void sg_put_ellipse(SgSheaf *p, SgPoint centre, double half_w_mm, double half_h_mm, double line_mm, uint32_t rgb);
/* The items from `first` on are one picture, told in words (plain). */
void sg_put_told(SgSheaf *p, uint32_t first, SgStr told);
void sg_end_page(SgSheaf *p);
#endif
