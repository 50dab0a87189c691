/* Why picks found nothing: what each demand rejects, and what it alone rejects. In: a search that failed. Out: one message. */
#include "solved/pick.h"

typedef struct { uint32_t fit, broken, rejects[1000], alone[1000]; } Account;
enum { MOST_DEMANDS = 1000 };

static bool counted(const SgStatement *st) { return sg_phrase(st, SG_PHRASE_require_at_least) || sg_phrase(st, SG_PHRASE_require_at_most); }

static uint32_t ndemands(const Group *g) { return g->from->ndemands < MOST_DEMANDS ? g->from->ndemands : MOST_DEMANDS; }

static Account *account(Choice *ch, Group *g, uint32_t version)
{
    Account *a = SG_NEW(ch->s->c->arena, Account);
    for (uint32_t k = 0; k < g->total && ch->s->c->work <= SG_MAX_WORK; k++) {
        ch->s->c->muted++;
        sg_pick_try(ch, g, version, k);
        ch->s->c->muted--;
        uint32_t against = 0, last = 0;
        bool broken = !sg_pick_holds(ch, g, version, k, g->from->ndemands);
        for (uint32_t i = 0; i < ndemands(g); i++) {
            if (counted(g->demand[i]) || sg_pick_holds(ch, g, version, k, i)) continue;
            a->rejects[i]++;
            against++;
            last = i;
        }
        a->broken += broken;
        a->fit += !against && !broken;
        if (against == 1 && !broken) a->alone[last]++;
    }
    return a;
}

static SgStr names(Choice *ch, const Group *g)
{
    SgBuf b = { .arena = ch->s->c->arena };
    for (uint32_t i = 0; i < g->npicks; i++) {
        SgStr name = sg_names_str(&ch->s->c->names, ch->scope->symbol[g->pick[i].symbol].name);
        sg_putf(&b, "%s`%.*s`", i == 0 ? "" : i + 1 == g->npicks ? " and " : ", ", (int)name.n, name.s);
    }
    return sg_buf_str(&b);
}

/* One combination aloud, so that a mistake in the figure or in a demand says itself. */
static bool mistake_said(Choice *ch, Group *g)
{
    SgSolved *s = ch->s;
    uint32_t before = sg_errors(s->c);
    if (ch->file_thing) s->file_thing = ch->file_thing[0];
    sg_pick_set(ch, g, 0);
    for (uint32_t i = 0; i < g->from->nonce; i++) if (ch->in_file) sg_solve_file_node(s, g->from->once[i].symbol); else sg_solve_node(s, g->from->once[i]);
    for (uint32_t i = 0; i < g->from->ntrial; i++) if (ch->in_file) sg_solve_file_node(s, g->from->trial[i].symbol); else sg_solve_node(s, g->from->trial[i]);
    for (uint32_t i = 0; i < g->from->ndemands; i++)
        if (g->demand[i]->kind == SG_KIND_require && g->demand[i]->definition) sg_demand_holds(s, g->demand[i]);
    return sg_errors(s->c) > before;
}

static SgSpan place_of(const SgStatement *st) { return st->definition ? st->definition->at : st->head_at; }

static void no_combination(Choice *ch, Group *g, const Account *a)
{
    SgCompile *c = ch->s->c;
    uint32_t worst = 0;
    for (uint32_t i = 1; i < ndemands(g); i++)
        if (a->alone[i] > a->alone[worst] || (a->alone[i] == a->alone[worst] && a->rejects[i] > a->rejects[worst])) worst = i;
    SgStr which = names(ch, g);
    if (!ndemands(g) || a->rejects[worst] == 0) { mistake_said(ch, g); return; }
    if (a->broken && mistake_said(ch, g)) return;
    ch->s->broken = true;
    SgDiag *d = sg_say(c, SG_MSG_pick_none, place_of(g->demand[worst]), "no values of %.*s meet every demand: of %u combinations this one rejects %u, and alone %u; loosen it, or give the picks more values", (int)which.n, which.s,
                       g->total, a->rejects[worst], a->alone[worst]);
    for (uint32_t i = 0; i < ndemands(g); i++)
        if (i != worst && a->rejects[i]) sg_note(c, d, place_of(g->demand[i]), "this one rejects %u, and alone %u", a->rejects[i], a->alone[i]);
}

/* How many combinations that fit meet a counted demand. */
static uint32_t meeting(const Choice *ch, const Group *g, uint32_t demand)
{
    uint32_t n = 0;
    for (uint32_t k = 0; k < g->total; k++) n += g->known[k] == FITS && sg_pick_holds(ch, g, 0, k, demand);
    return n;
}

static bool count_unmet(Choice *ch, Group *g, uint32_t nfit)
{
    for (uint32_t i = 0; ch->s->set.whole && i < ndemands(g); i++) {
        if (!counted(g->demand[i])) continue;
        uint32_t met = meeting(ch, g, i), least = g->bound[2 * i], most = g->bound[2 * i + 1];
        bool few = (least && !met) || least > ch->versions, many = most < ch->versions && met == nfit;
        if (!few && !many) continue;
        if (least > ch->versions) sg_wrong(ch->s, SG_MSG_pick_versions, place_of(g->demand[i]), "this is to hold in %u versions, and there are only %u", least, ch->versions);
        else if (few) sg_wrong(ch->s, SG_MSG_pick_versions, place_of(g->demand[i]), "this is to hold in at least %u versions, and of the %u combinations that meet the other demands none meets it; loosen those, or give the picks more values", least, nfit);
        else sg_wrong(ch->s, SG_MSG_pick_versions, place_of(g->demand[i]), "this is to hold in at most %u of %u versions, and every combination that meets the other demands meets it", most, ch->versions);
        return true;
    }
    return false;
}

/* How many values of the told one `d`, no two alike, the combinations that fit have; it counts no further than the versions. */
static uint32_t unlike(const Choice *ch, const Group *g, uint32_t d)
{
    double *seen = SG_ARRAY(ch->s->c->arena, double, ch->versions + 1);
    uint32_t n = 0;
    for (uint32_t k = 0; k < g->total && n < ch->versions; k++) {
        double a = g->told[(size_t)k * g->ndiffer + d];
        bool fresh = g->known[k] == FITS;
        for (uint32_t i = 0; fresh && i < n; i++) fresh = !sg_pick_alike(a, seen[i]);
        if (fresh) seen[n++] = a;
    }
    return n;
}

/* A value that no two versions share and that takes fewer values than there are versions, whatever else is loosened. */
static bool differ_unmet(Choice *ch, const Group *g)
{
    uint32_t d = 0;
    for (uint32_t i = 0; !ch->file_thing && i < ndemands(g); i++) {
        const SgStatement *st = g->demand[i];
        for (uint32_t k = 0; st->kind == SG_KIND_differ && k < st->nlist; k++) {
            uint32_t n = unlike(ch, g, d++);
            if (n >= ch->versions) continue;
            sg_wrong(ch->s, SG_MSG_pick_versions, st->list[k]->at, "no two of %u versions are to be alike in this, and the combinations that meet the other demands have only %u value%s of it; ask for %u version%s at most, leave it out of `differ`, or give the picks more values", ch->versions, n, n == 1 ? "" : "s", n, n == 1 ? "" : "s");
            return true;
        }
    }
    return false;
}

void sg_pick_explain(Choice *ch)
{
    double all = 1;
    const SgStatement *across = NULL;
    for (uint32_t i = 0; i < ch->ngroups; i++) {
        Group *g = &ch->group[i];
        for (uint32_t v = 0; v < (ch->file_thing ? ch->versions : 1); v++) {
            const Account *a = account(ch, g, v);
            if (a->fit == 0) { no_combination(ch, g, a); return; }
            if (v) continue;
            all *= a->fit;
            if (count_unmet(ch, g, a->fit) || (ch->s->set.whole && a->fit >= ch->versions && differ_unmet(ch, g))) return;
        }
        for (uint32_t k = 0; k < ndemands(g) && !across; k++) if (g->demand[k]->kind == SG_KIND_differ || counted(g->demand[k])) across = g->demand[k];
    }
    SgSpan at = ch->scope->symbol[ch->group[0].pick[0].symbol].at;
    if (all < ch->versions && !ch->in_file) {
        sg_wrong(ch->s, SG_MSG_pick_versions, at, "%u versions need as many combinations, and only %u meet every demand; loosen a demand, or give the picks more values", ch->versions, (uint32_t)all);
        return;
    }
    sg_wrong(ch->s, SG_MSG_pick_versions, across ? place_of(across) : at, "no set of %u versions was found that meets this together with all other demands; loosen it, ask for fewer versions, or give the picks more values", ch->versions);
}
