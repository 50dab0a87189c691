/* Mistakes that readings do not show. In: a problem worked out, with what is accepted of its drawn answers. Out: which of the
   mistakes that students make lead to readings that are all accepted, so that only the rays themselves tell. */
#include "sheet/build.h"
#include <math.h>

/* clause: for the author; text: for the key, in its language. */
static const struct { SgPencilWrong wrong; const char *clause; SgTextId text; } sorts[] = {
    { SG_PENCIL_AT_FOCUS, "the image put at the focal point", SG_TEXT_mistake_at_focus },
    { SG_PENCIL_OTHER_SIDE, "the image put on the other side", SG_TEXT_mistake_other_side },
    { SG_PENCIL_OTHER_WAY_UP, "the image drawn the other way up", SG_TEXT_mistake_other_way_up },
    { SG_PENCIL_WRONG_SIDE, "a ray on the wrong side of the normal", SG_TEXT_mistake_wrong_side },
    { SG_PENCIL_THROUGH_CENTRE, "a ray through the point twice as far as the focal point", SG_TEXT_mistake_through_centre },
    { SG_PENCIL_AWAY, "a ray as if from the other focal point", SG_TEXT_mistake_away_from_focus },
    { SG_PENCIL_AS_IF, "a ray as if the object stood at the focal point", SG_TEXT_mistake_as_if_at_focus },
    { SG_PENCIL_UNBENT, "a ray that goes straight on", SG_TEXT_mistake_unbent },
};
enum { SORTS = sizeof sorts / sizeof *sorts };

static bool same_words(const SgValue *a, const SgValue *b)
{
    return a->state == b->state && a->truth == b->truth && (a->type != SG_TYPE_TEXT || sg_str_same(a->text, b->text));
}

/* Whether a marker who reads no more than what is asked for would accept this drawing. What a mistake does not touch at all, as an
   image's height where only its place is wrong, says nothing of it, and the author need not hear that. unsigned_too: students often
   leave out the sign of a distance, so that an image put at a focal point reads like one as far away on the other side. */
static bool accepted(SgSolved *s, const SgPaperCase *paper, const SgSheetProblem *p, const SgPencilDrawing *d, bool unsigned_too)
{
    bool touched = false;
    for (uint32_t i = 0; i < p->nasked; i++) {
        const SgAsked *a = &p->asked[i];
        if (!sg_sheet_reads(s, a->expression, paper)) continue;
        SgValue v = sg_sheet_read(s, paper, a->expression, d);
        if (a->value.type != SG_TYPE_NUMBER) {
            if (!same_words(&v, &a->value)) return false;
            continue;
        }
        if (!a->drawn.told) continue;
        if (v.state != SG_VALID) return false;
        bool inside = v.number >= a->drawn.from && v.number <= a->drawn.to, turned = -v.number >= a->drawn.from && -v.number <= a->drawn.to;
        if (!inside && !(unsigned_too && turned)) return false;
        touched = touched || fabs(v.number - a->value.number) > 1e-6 * (1 + fabs(v.number));
    }
    return touched;
}

static bool passes(SgSolved *s, const SgPaperCase *paper, const SgSheetProblem *p, uint32_t stage, SgPencilWrong wrong)
{
    uint32_t rays = wrong < SG_PENCIL_OTHER_WAY_UP ? paper->pencil.stage[stage].tip.n : 1;
    for (uint32_t i = 0; i < rays * rays; i++) {
        SgPencilDrawing d;
        if (sg_pencil_wrong(&paper->pencil, stage, wrong, i / rays, i % rays, &d) && accepted(s, paper, p, &d, wrong == SG_PENCIL_AT_FOCUS)) return true;
    }
    return false;
}

static SgStr name_of(SgSolved *s, const SgPaperCase *paper, SgPencilWrong wrong)
{
    return wrong < SG_PENCIL_OTHER_WAY_UP ? s->wording->text[SG_TEXT_name_any_ray] : SG_FILLED(s->c->arena, s->wording, SG_TEXT_name_image, { "name", sg_plain_name(s, paper->image) });
}

/* For the author, and for the key. */
SgStr sg_sheet_hidden(SgSolved *s, const SgPaperCase *paper, SgSheetProblem *p)
{
    SgBuf b = { .arena = s->c->arena };
    SgStr key = SG_LIT("");
    for (uint32_t k = 0; k < SORTS; k++) {
        bool hidden = false;
        for (uint32_t i = 0; i < paper->pencil.nstages; i++) {
            if (!passes(s, paper, p, i, sorts[k].wrong)) continue;
            SgStr name = sg_name_of(s, paper->chain.by[paper->first + i]);
            hidden = true;
            sg_putf(&b, "%s%s", b.n ? ", " : "", sorts[k].clause);
            if (paper->pencil.nstages > 1) sg_putf(&b, " (at %.*s)", (int)name.n, name.s);
        }
        if (!hidden) continue;
        SgStr clause = SG_FILLED(b.arena, s->wording, sorts[k].text, { "name", name_of(s, paper, sorts[k].wrong) });
        key = key.n ? sg_joined(b.arena, s->wording, key, clause) : clause;
    }
    if (key.n) p->hidden = SG_FILLED(s->c->arena, s->wording, SG_TEXT_sheet_hidden, { "mistakes", key });
    return sg_buf_str(&b);
}
