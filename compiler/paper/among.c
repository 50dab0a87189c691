/* among: drawings to choose from. In: solved figures, the right one and those with mistakes. Out: one page that holds them all.
   Every drawing is laid out alike, so that nothing but what is drawn tells which is right. */
#include "paper/among.h"
#include "paper/put.h"
#include <math.h>

#define AROUND_MM 10.0             /* free around what must be seen */
#define STEP_MM 5.0                /* frames grow by this */
#define GAP_MM 4.0
#define LETTER_PT 11.0

static double up_to_step(double mm) { return ceil(mm / STEP_MM - 1e-9) * STEP_MM; }

const SgPage *sg_among(SgCompile *c, const SgSheetProblem *p, double column_mm)
{
    const SgScene **scene = SG_ARRAY(c->arena, const SgScene *, p->ndrawings);
    SgBox ink = sg_box_empty();
    for (uint32_t i = 0; i < p->ndrawings; i++) {
        SgSolved *s = p->drawing[i].solved;
        scene[i] = sg_scene_part(c, s, &s, 1, (SgScenePart){ .paper = true, .upto = (int)s->figure->nsteps });
        if (!scene[i]) return NULL;
        for (uint32_t k = 0; k < scene[i]->nmarks; k++) ink = sg_box_join(ink, sg_paper_core(c, scene[i], &scene[i]->mark[k]));
    }
    double w = up_to_step(ink.x1_mm - ink.x0_mm + 2 * AROUND_MM), h = up_to_step(ink.y1_mm - ink.y0_mm + 2 * AROUND_MM);
    double x = (ink.x0_mm + ink.x1_mm) / 2, y = (ink.y0_mm + ink.y1_mm) / 2;
    uint32_t across = (uint32_t)floor((column_mm + GAP_MM + 1e-6) / (w + GAP_MM));
    if (across == 0) across = 1;
    if (across > p->ndrawings) across = p->ndrawings;
    uint32_t down = (p->ndrawings + across - 1) / across;
    SgSheaf sheaf = { .c = c, .w_mm = across * w + (across - 1) * GAP_MM, .h_mm = down * h + (down - 1) * GAP_MM, .id = p->name, .title = SG_LIT("") };
    for (uint32_t i = 0; i < p->ndrawings; i++) {
        SgPage *given, *key;
        SgPoint corner = sg_pt(i % across * (w + GAP_MM), i / across * (h + GAP_MM));
        sg_layout_apart(c, scene[i], scene[i], (SgBox){ x - w / 2, y - h / 2, x + w / 2, y + h / 2 }, &given, &key);
        sg_put_figure(&sheaf, corner, given, -1, SG_INK_RGB);
        sg_put_text(&sheaf, sg_pt_add(corner, sg_pt(1, 5)), sg_format(c->arena, "%c", (char)('A' + i)), SG_FACE_BOLD, LETTER_PT, SG_INK_RGB);
    }
    sg_end_page(&sheaf);
    return sg_errors(c) ? NULL : sheaf.page.v[0];
}
