/* convention: how a figure's numbers are signed, lettered and worked. In: the setting of the figure, else of its file.
   Out: a convention. Never changes a property: it is what is shown. */
#include "solved/build.h"

typedef struct { SgPhraseId id; const char *name; bool cartesian, sizes; const char *object, *image, *focal, *vertex; } Ready;
/* uk_school: common practice; magnification as a ratio of sizes: Cambridge IGCSE Physics, mark scheme booklets "Light 5", "Light 7".
   us_school: OpenStax University Physics Volume 3, ch. 2, and College Physics 2e, ch. 25: 1/d_o + 1/d_i = 1/f, m = -d_i/d_o.
   indian_school: NCERT Science X, ch. 10, and Physics XII, ch. 9, "new Cartesian": mirror 1/v + 1/u = 1/f, m = -v/u; lens 1/v - 1/u = 1/f, m = v/u.
   university: Cartesian as in Univ. of Tennessee, Optics 421, assignment 2 solutions; the letters s and s' are common practice. */
static const Ready ready[] = {
    { SG_PHRASE_convention_uk_school, "uk_school", false, true, "*u*", "*v*", "*f*", "" },
    { SG_PHRASE_convention_us_school, "us_school", false, false, "*d*_o", "*d*_i", "*f*", "" },
    { SG_PHRASE_convention_indian_school, "indian_school", true, false, "*u*", "*v*", "*f*", "P" },
    { SG_PHRASE_convention_university, "university", true, false, "*s*", "*s*\xE2\x80\xB2", "*f*", "V" },
};

static SgConvention taken(const Ready *r)
{
    return (SgConvention){ .name = r->name, .cartesian = r->cartesian, .sizes = r->sizes, .object = sg_str(r->object), .image = sg_str(r->image),
        .focal = sg_str(r->focal), .vertex = sg_str(r->vertex), .focus = SG_LIT("F"), .centre = SG_LIT("C") };
}

static void three(SgSolved *s, const SgStatement *st, SgPhraseId id, SgStr *a, SgStr *b, SgStr *c)
{
    const SgPhrase *p = sg_phrase(st, id);
    if (!p || p->n != 3) return;
    *a = sg_eval_text(s, p->value[0]);
    *b = sg_eval_text(s, p->value[1]);
    *c = sg_eval_text(s, p->value[2]);
}

/* The figure's own, else its sheet's, else its file's. */
static const SgStatement *setting(const SgSolved *s)
{
    for (uint32_t i = 0; s->set.convention && i < s->figure->scope->nstatements; i++)
        if (s->figure->scope->statement[i].kind == SG_KIND_convention) return &s->figure->scope->statement[i];
    return s->set.convention ? s->set.convention : sg_setting(s, SG_KIND_convention);
}

void sg_read_convention(SgSolved *s)
{
    const SgStatement *st = setting(s);
    SgConvention *k = &s->convention;
    *k = taken(&ready[0]);                             /* real is positive, u, v, f, F and C */
    k->sizes = false;
    k->name = NULL;
    if (!st) return;
    k->name = "its own words";
    for (size_t i = 0; i < sizeof ready / sizeof *ready; i++) if (sg_phrase(st, ready[i].id)) *k = taken(&ready[i]);
    if (sg_phrase(st, SG_PHRASE_convention_real_positive)) k->cartesian = false;
    if (sg_phrase(st, SG_PHRASE_convention_cartesian)) k->cartesian = true;
    if (sg_phrase(st, SG_PHRASE_convention_signed)) k->sizes = false;
    if (sg_phrase(st, SG_PHRASE_convention_unsigned)) k->sizes = true;
    three(s, st, SG_PHRASE_convention_letters, &k->object, &k->image, &k->focal);
    three(s, st, SG_PHRASE_convention_points, &k->vertex, &k->focus, &k->centre);
    if (st->nphrases == 0 && !st->damaged)
        sg_wrong(s, SG_MSG_convention_form, st->head_at, "write which: convention uk_school, us_school, indian_school or university, or words of your own such as `cartesian letters \"a\", \"b\", \"f\"`");
}
