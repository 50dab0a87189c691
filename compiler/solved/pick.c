/* pick: values chosen among candidates so that every demand holds, for all versions of a set at once. In: groups of picks from
   the model. Out: a value a pick and version, or the reason why there is none.
   Depth first: versions in order, in each the groups in order, in each its picks by name, in each the candidates by their hash.
   So it hangs on nothing but the script, the seed and the number of versions. */
#include "solved/pick.h"
#include "base/num.h"
#include <math.h>

enum { MOST_STEPS = 1000000 };           /* combinations looked at for a set, most of them known already */
#define WHOLE 1e-9                       /* how near to a whole number of steps a decimal lies */

/* FNV-1a of 64 bits (Fowler, Noll and Vo; offset and prime as in draft-eastlake-fnv), each part followed by a byte 0x1F, then the last mix of
   MurmurHash3 (its two multipliers; in the public domain), since FNV alone orders near texts alike. Frozen: a change of one bit
   gives every sheet other numbers. */
uint64_t sg_pick_hash(const SgStr *part, uint32_t nparts)
{
    uint64_t h = 0xCBF29CE484222325u;
    for (uint32_t k = 0; k < nparts; k++) {
        for (uint32_t i = 0; i < part[k].n; i++) h = (h ^ (uint8_t)part[k].s[i]) * 0x100000001B3u;
        h = (h ^ 0x1Fu) * 0x100000001B3u;
    }
    h = (h ^ h >> 33) * 0xFF51AFD7ED558CCDu;
    h = (h ^ h >> 33) * 0xC4CEB9FE1A85EC53u;
    return h ^ h >> 33;
}

/* ---- candidates ---- */

static bool wrong(Choice *ch, SgSpan at, const char *what)
{
    sg_wrong(ch->s, SG_MSG_pick_form, at, "%s", what);
    return false;
}

static bool number_of(Choice *ch, const SgExpr *e, SgValue *v)
{
    *v = sg_eval(ch->s, e);
    if (v->state == SG_POISON) return false;
    if (v->state == SG_VALID && v->type == SG_TYPE_NUMBER) return true;
    return wrong(ch, e->at, "a pick chooses among numbers, such as 6 cm or 30 deg");
}

/* Powers of ten that make both whole; -1 none up to nine decimals. */
static int decimals_of(double a, double b)
{
    double k = 1;
    for (int d = 0; d <= 9; d++, k *= 10)
        if (fabs(a * k - sg_round_to(a * k, 1)) < WHOLE * (1 + fabs(a * k)) && fabs(b * k - sg_round_to(b * k, 1)) < WHOLE * (1 + fabs(b * k))) return d;
    return -1;
}

static void set_candidate(Choice *ch, Pick *p, uint32_t k, double value, double in_unit)
{
    SgBuf b = { .arena = ch->s->c->arena };
    sg_put_full(&b, in_unit);
    if (p->unit != SG_UNIT_COUNT) sg_putf(&b, " %s", sg_unit_info(p->unit)->spelling);
    p->value[k] = value;
    p->text[k] = sg_buf_str(&b);
}

static bool read_list(Choice *ch, Pick *p, const SgPhrase *from)
{
    p->n = from->n;
    p->value = SG_ARRAY(ch->s->c->arena, double, p->n);
    p->text = SG_ARRAY(ch->s->c->arena, SgStr, p->n);
    for (uint32_t i = 0; i < from->n; i++) {
        SgValue v;
        if (!number_of(ch, from->value[i], &v)) return false;
        if (i == 0) { p->dim = v.dim; p->unit = v.unit; }
        if (!sg_same_dim(p->dim, v.dim)) return wrong(ch, from->value[i]->at, "the values of a pick are all of one sort: lengths, angles or plain numbers");
        set_candidate(ch, p, i, v.number, v.number / (p->unit == SG_UNIT_COUNT ? 1 : sg_unit_factor(p->unit)));
        for (uint32_t k = 0; k < i; k++) if (sg_near_equal(p->value[k], v.number, p->dim)) return wrong(ch, from->value[i]->at, "this value stands in the list already; take it away");
    }
    return true;
}

/* from + k step, counted in whole units of the last decimal of either, so that 1.3 is 1.3. */
static bool read_range(Choice *ch, Pick *p, const SgPhrase *from, const SgPhrase *to, const SgPhrase *step)
{
    SgValue a, b, d;
    if (!number_of(ch, from->value[0], &a) || !number_of(ch, to->value[0], &b) || !number_of(ch, step->value[0], &d)) return false;
    p->dim = a.nought ? d.dim : a.dim;
    p->unit = a.unit != SG_UNIT_COUNT ? a.unit : d.unit;
    bool same = (a.nought || sg_same_dim(a.dim, p->dim)) && (b.nought || sg_same_dim(b.dim, p->dim)) && sg_same_dim(d.dim, p->dim);
    if (!same || !(d.number > 0) || b.number < a.number)
        return wrong(ch, from->at, "a range goes from a smaller value to a greater one by steps of more than nought, all of one sort: from 6 cm to 15 cm step 0.5 cm");
    double factor = p->unit == SG_UNIT_COUNT ? 1 : sg_unit_factor(p->unit), first = a.number / factor, by = d.number / factor;
    double count = floor((b.number - a.number) / d.number * (1 + WHOLE) + WHOLE) + 1;
    if (count > SG_MAX_CANDIDATES) {
        sg_wrong(ch->s, SG_MSG_limit, step->at, "a pick chooses among at most %d values; make the step larger or the range shorter", SG_MAX_CANDIDATES);
        return false;
    }
    int decimals = decimals_of(first, by);
    double ten = 1;
    for (int i = 0; i < decimals; i++) ten *= 10;
    p->n = (uint32_t)count;
    p->value = SG_ARRAY(ch->s->c->arena, double, p->n);
    p->text = SG_ARRAY(ch->s->c->arena, SgStr, p->n);
    for (uint32_t k = 0; k < p->n; k++) {
        double whole = sg_round_to(first * ten, 1) + k * sg_round_to(by * ten, 1);
        if (decimals >= 0) set_candidate(ch, p, k, whole * factor / ten, whole / ten);
        else set_candidate(ch, p, k, a.number + k * d.number, first + k * by);
    }
    return true;
}

static bool read_pick(Choice *ch, Pick *p)
{
    const SgStatement *st = &ch->scope->statement[ch->scope->symbol[p->symbol].statement];
    const SgPhrase *from = sg_phrase(st, SG_PHRASE_pick_from), *to = sg_phrase(st, SG_PHRASE_pick_to), *step = sg_phrase(st, SG_PHRASE_pick_step);
    if (st->damaged || !from || !from->n) return false;
    if (!to && !step && from->n > 1) return read_list(ch, p, from);
    if (to && step && from->n == 1 && to->n && step->n) return read_range(ch, p, from, to, step);
    return wrong(ch, st->head_at, "a pick has a list, `from 2 cm, 2.5 cm, 3 cm`, or a range with its step, `from 6 cm to 15 cm step 0.5 cm`");
}

/* The candidates of each version, by their hash; equal ones, which no two texts have shown, by their place. */
static void order_pick(Choice *ch, Pick *p)
{
    SgSolved *s = ch->s;
    uint64_t *hash = SG_ARRAY(s->c->arena, uint64_t, p->n);
    p->order = SG_ARRAY(s->c->arena, uint16_t, (size_t)p->n * ch->versions);
    for (uint32_t v = 0; v < ch->versions; v++) {
        char letter = (char)('A' + v);
        uint16_t *order = p->order + (size_t)v * p->n;
        for (uint32_t k = 0; k < p->n; k++) {
            SgStr part[] = { s->set.seed, ch->in_file ? SG_LIT("") : s->set.name, { &letter, 1 }, sg_names_str(&s->c->names, ch->scope->symbol[p->symbol].name), p->text[k] };
            hash[k] = sg_pick_hash(part, 5);
            uint32_t i = k;
            for (; i && hash[order[i - 1]] > hash[k]; i--) order[i] = order[i - 1];
            order[i] = (uint16_t)k;
        }
    }
}

/* ---- groups ---- */

static bool counts(const SgStatement *st) { return sg_phrase(st, SG_PHRASE_require_at_least) || sg_phrase(st, SG_PHRASE_require_at_most); }

/* How many versions at least or at most; the bound that is not said lets all through. */
static bool read_bounds(Choice *ch, Group *g, uint32_t k, const SgStatement *st)
{
    static const SgPhraseId id[2] = { SG_PHRASE_require_at_least, SG_PHRASE_require_at_most };
    g->bound[2 * k + 1] = SG_MAX_VERSIONS;
    for (uint32_t i = 0; i < 2; i++) {
        const SgPhrase *p = sg_phrase(st, id[i]);
        if (!p || !p->n) continue;
        SgValue v = sg_eval_as(ch->s, p->value[0], SG_TYPE_NUMBER, SG_DIM_NUMBER, sg_phrase_info(id[i])->word);
        if (v.state != SG_VALID) return false;
        if (!(v.number >= 0) || v.number > SG_MAX_VERSIONS || v.number > floor(v.number)) {
            sg_wrong(ch->s, SG_MSG_pick_form, p->value[0]->at, "`%s` counts versions: a whole number from 0 to %d", sg_phrase_info(id[i])->word, SG_MAX_VERSIONS);
            return false;
        }
        g->bound[2 * k + i] = (uint32_t)v.number;
    }
    return true;
}

static void too_many(Choice *ch, const Group *g)
{
    const Pick *most = &g->pick[0];
    for (uint32_t i = 1; i < g->npicks; i++) if (g->pick[i].n > most->n) most = &g->pick[i];
    const SgSymbol *sym = &ch->scope->symbol[most->symbol];
    SgStr name = sg_names_str(&ch->s->c->names, sym->name);
    sg_wrong(ch->s, SG_MSG_limit, sym->at, "the picks that demands tie together have more than %d combinations; `%.*s` has the most values, %u: make its step larger", SG_MAX_COMBINATIONS, (int)name.n, name.s, most->n);
}

static bool read_group(Choice *ch, Group *g, const SgPickGroup *from)
{
    SgArena *a = ch->s->c->arena;
    g->from = from;
    g->npicks = from->npicks;
    g->pick = SG_ARRAY(a, Pick, g->npicks);
    uint64_t total = 1;
    for (uint32_t i = 0; i < g->npicks; i++) {
        g->pick[i].symbol = from->pick[i];
        if (!read_pick(ch, &g->pick[i])) return false;
        if (total <= SG_MAX_COMBINATIONS) total *= g->pick[i].n;
    }
    if (total > SG_MAX_COMBINATIONS) { too_many(ch, g); return false; }
    for (uint32_t i = 0; i < g->npicks; i++) order_pick(ch, &g->pick[i]);
    g->total = (uint32_t)total;
    g->demand = SG_ARRAY(a, const SgStatement *, from->ndemands + 1);
    g->bound = SG_ARRAY(a, uint32_t, 2 * from->ndemands + 1);
    for (uint32_t i = 0; i < from->ndemands; i++) {
        const SgStatement *st = g->demand[i] = &ch->scope->statement[from->demand[i]];
        g->ndiffer += st->kind == SG_KIND_differ ? st->nlist : 0;
        if (counts(st) && !read_bounds(ch, g, i, st)) return false;
    }
    uint32_t sheets = ch->file_thing ? ch->versions : 1;       /* values of the file that change from version to version */
    g->known = SG_ARRAY(a, uint8_t, (size_t)g->total * sheets);
    g->holds = SG_ARRAY(a, uint8_t, (size_t)g->total * sheets * (from->ndemands + 1));
    g->told = SG_ARRAY(a, double, (size_t)g->total * sheets * g->ndiffer + 1);
    g->kept = SG_ARRAY(a, SgThing, from->ntrial + 1);
    return true;
}

/* ---- one combination ---- */

static SgThing *thing_of(Choice *ch, uint32_t symbol) { return ch->in_file ? &ch->s->file_thing[symbol] : &ch->s->thing[symbol]; }

static void solve_part(Choice *ch, const SgGraphNode *node, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++)
        if (ch->in_file) sg_solve_file_node(ch->s, node[i].symbol);
        else sg_solve_node(ch->s, node[i]);
}

static uint32_t candidate_of(const Group *g, uint32_t combination, uint32_t pick)
{
    for (uint32_t i = g->npicks - 1; i > pick; i--) combination /= g->pick[i].n;
    return combination % g->pick[pick].n;
}

void sg_pick_set(Choice *ch, const Group *g, uint32_t combination)
{
    for (uint32_t i = 0; i < g->npicks; i++) {
        const Pick *p = &g->pick[i];
        SgThing *t = thing_of(ch, p->symbol);
        t->state = SG_VALID;
        t->value = sg_value_number(p->value[candidate_of(g, combination, i)], p->dim);
        t->value.unit = p->unit;
    }
}

/* What the group needs and does not change, for the file's values of this version. */
static void make_ready(Choice *ch, Group *g, uint32_t version)
{
    uint32_t want = ch->file_thing ? version + 1 : 1;
    if (g->ready == want) return;
    if (ch->file_thing) ch->s->file_thing = ch->file_thing[version];
    solve_part(ch, g->from->once, g->from->nonce);
    for (uint32_t i = 0; i < g->from->ntrial; i++) g->kept[i] = *thing_of(ch, g->from->trial[i].symbol);
    for (uint32_t k = 0; k < ch->ngroups && ch->file_thing; k++) ch->group[k].ready = 0;
    g->ready = want;
}

static void restore(Choice *ch, Group *g)
{
    for (uint32_t i = 0; i < g->from->ntrial; i++) *thing_of(ch, g->from->trial[i].symbol) = g->kept[i];
}

static double told(Choice *ch, const SgExpr *e, bool *there)
{
    SgValue v = sg_eval(ch->s, e);
    *there = v.state == SG_VALID || v.state == SG_INFINITE;
    if (v.state == SG_INFINITE) return 1e300;
    if (v.type == SG_TYPE_TRUTH) return v.truth;
    if (v.type == SG_TYPE_TEXT) return (double)(sg_pick_hash(&v.text, 1) >> 12);
    *there = *there && v.type == SG_TYPE_NUMBER;
    return v.number;
}

/* What each demand says of a combination: nothing is said aloud, and what it took is given back. */
void sg_pick_try(Choice *ch, Group *g, uint32_t version, uint32_t combination)
{
    SgSolved *s = ch->s;
    uint32_t at = (ch->file_thing ? version * g->total : 0) + combination, d = 0;
    if (g->known[at]) return;
    make_ready(ch, g, version);
    bool broken = s->broken, fits = true;
    SgArenaMark mark = sg_arena_mark(s->c->arena);
    s->broken = false;
    sg_pick_set(ch, g, combination);
    solve_part(ch, g->from->trial, g->from->ntrial);
    for (uint32_t i = 0; i < g->from->ndemands; i++) {
        const SgStatement *st = g->demand[i];
        bool holds = true;
        if (st->kind == SG_KIND_require) holds = st->definition && sg_demand_holds(s, st);
        for (uint32_t k = 0; st->kind == SG_KIND_differ && k < st->nlist; k++) {
            bool there;
            g->told[(size_t)at * g->ndiffer + d++] = told(ch, st->list[k], &there);
            holds = holds && there;
        }
        g->holds[(size_t)at * (g->from->ndemands + 1) + i] = holds;
        if (!counts(st)) fits = fits && holds;
    }
    g->holds[(size_t)at * (g->from->ndemands + 1) + g->from->ndemands] = !s->broken;      /* an error of the figure itself */
    fits = fits && !s->broken;
    s->broken = broken;
    restore(ch, g);
    sg_arena_reset(s->c->arena, mark);
    g->known[at] = fits ? FITS : UNFIT;
}

bool sg_pick_holds(const Choice *ch, const Group *g, uint32_t version, uint32_t combination, uint32_t demand)
{
    size_t at = (ch->file_thing ? (size_t)version * g->total : 0) + combination;
    return g->holds[at * (g->from->ndemands + 1) + demand] != 0;
}

static bool fits(Choice *ch, Group *g, uint32_t version, uint32_t combination)
{
    sg_pick_try(ch, g, version, combination);
    return g->known[(ch->file_thing ? version * g->total : 0) + combination] == FITS;
}

/* ---- over versions ---- */

bool sg_pick_alike(double a, double b) { return fabs(a - b) <= 1e-6 * (fabs(a) > fabs(b) ? fabs(a) : fabs(b)); }

static bool differs(const Choice *ch, uint32_t which, uint32_t version, uint32_t combination)
{
    const Group *g = &ch->group[which];
    for (uint32_t v = 0; v < version; v++)
        for (uint32_t d = 0; d < g->ndiffer; d++) {
            size_t here = (ch->file_thing ? (size_t)version * g->total : 0) + combination, there = (ch->file_thing ? (size_t)v * g->total : 0) + ch->taken[v * ch->ngroups + which];
            double a = g->told[here * g->ndiffer + d], b = g->told[there * g->ndiffer + d];
            if (sg_pick_alike(a, b)) return false;
        }
    return true;
}

/* Whether as many versions as are asked for can still meet each counted demand. */
static bool counts_can_hold(const Choice *ch, uint32_t which, uint32_t version, uint32_t combination)
{
    const Group *g = &ch->group[which];
    for (uint32_t i = 0; ch->s->set.whole && i < g->from->ndemands; i++) {
        if (!counts(g->demand[i])) continue;
        uint32_t met = sg_pick_holds(ch, g, version, combination, i);
        for (uint32_t v = 0; v < version; v++) met += sg_pick_holds(ch, g, v, ch->taken[v * ch->ngroups + which], i);
        if (met > g->bound[2 * i + 1] || met + ch->versions - 1 - version < g->bound[2 * i]) return false;
    }
    return true;
}

static bool is_new(const Choice *ch, uint32_t version)
{
    for (uint32_t v = 0; v < version; v++) {
        uint32_t g = 0;
        while (g < ch->ngroups && ch->taken[v * ch->ngroups + g] == ch->taken[version * ch->ngroups + g]) g++;
        if (g == ch->ngroups) return false;
    }
    return true;
}

/* The combination at a place of a version's order. */
static uint32_t at_rank(const Group *g, uint32_t version, uint32_t rank)
{
    uint32_t combination = 0, weight = g->total;
    for (uint32_t i = 0; i < g->npicks; i++) {
        weight /= g->pick[i].n;
        combination = combination * g->pick[i].n + g->pick[i].order[(size_t)version * g->pick[i].n + rank / weight % g->pick[i].n];
    }
    return combination;
}

/* The next combination of a level that goes with all chosen before it; false: there is none. */
static bool advance(Choice *ch, uint32_t level, uint32_t *rank, uint32_t *steps)
{
    uint32_t version = level / ch->ngroups, which = level % ch->ngroups;
    Group *g = &ch->group[which];
    while (*rank < g->total && *steps < MOST_STEPS && ch->s->c->work <= SG_MAX_WORK) {
        uint32_t combination = at_rank(g, version, (*rank)++);
        ++*steps;
        if (!fits(ch, g, version, combination) || !differs(ch, which, version, combination) || !counts_can_hold(ch, which, version, combination)) continue;
        ch->taken[level] = combination;
        if (which + 1 < ch->ngroups || ch->in_file || is_new(ch, version)) return true;     /* values of the file may come again */
    }
    return false;
}

static bool search(Choice *ch)
{
    uint32_t levels = ch->versions * ch->ngroups, level = 0, steps = 0;
    uint32_t *rank = SG_ARRAY(ch->s->c->arena, uint32_t, levels + 1);
    while (level < levels) {
        if (advance(ch, level, &rank[level], &steps)) { rank[++level] = 0; continue; }
        if (level == 0 || steps >= MOST_STEPS || ch->s->c->work > SG_MAX_WORK) return false;
        level--;
    }
    return true;
}

/* ---- a scope ---- */

static uint32_t npicks_of(const Choice *ch)
{
    uint32_t n = 0;
    for (uint32_t g = 0; g < ch->ngroups; g++) n += ch->group[g].npicks;
    return n;
}

static double *keep(Choice *ch)
{
    uint32_t n = npicks_of(ch), k = 0;
    double *chosen = SG_ARRAY(ch->s->c->arena, double, (size_t)n * ch->versions + 1);
    for (uint32_t v = 0; v < ch->versions; v++)
        for (uint32_t g = 0; g < ch->ngroups; g++)
            for (uint32_t i = 0; i < ch->group[g].npicks; i++)
                chosen[k++] = ch->group[g].pick[i].value[candidate_of(&ch->group[g], ch->taken[v * ch->ngroups + g], i)];
    return chosen;
}

static bool read_groups(Choice *ch)
{
    ch->ngroups = ch->scope->ngroups;
    ch->group = SG_ARRAY(ch->s->c->arena, Group, ch->ngroups);
    ch->taken = SG_ARRAY(ch->s->c->arena, uint32_t, ch->ngroups * ch->versions + 1);
    for (uint32_t i = 0; i < ch->ngroups; i++)
        if (!read_group(ch, &ch->group[i], &ch->scope->group[i])) return false;
    return true;
}

/* Lets and parameters that ranges may hang on. */
static void solve_lets(Choice *ch)
{
    for (uint32_t i = 0; i < ch->scope->norder; i++)
        if (ch->scope->symbol[ch->scope->order[i].symbol].kind == SG_KIND_let) solve_part(ch, &ch->scope->order[i], 1);
}

static const double *choose(Choice *ch)
{
    SgSolved *s = ch->s;
    SgThing *file_thing = s->file_thing;
    const double *chosen = NULL;
    s->c->muted++;
    solve_lets(ch);                      /* what is wrong with them is said when they are worked out for good */
    s->c->muted--;
    if (sg_errors(s->c) || !read_groups(ch)) return NULL;
    s->c->muted++;
    bool found = search(ch);
    s->c->muted--;
    if (found) chosen = keep(ch);
    else if (s->c->work <= SG_MAX_WORK) sg_pick_explain(ch);
    else sg_worked_out(s, s->figure->at);
    s->file_thing = file_thing;
    return chosen;
}

static void set_all(SgSolved *s, const SgScope *scope, const double *chosen, uint32_t version, SgThing *thing)
{
    uint32_t n = 0, k = 0;
    for (uint32_t g = 0; g < scope->ngroups; g++) n += scope->group[g].npicks;
    for (uint32_t g = 0; g < scope->ngroups; g++)
        for (uint32_t i = 0; i < scope->group[g].npicks; i++) {
            const SgStatement *st = &scope->statement[scope->symbol[scope->group[g].pick[i]].statement];
            SgThing *t = &thing[scope->group[g].pick[i]];
            const SgPhrase *from = sg_phrase(st, SG_PHRASE_pick_from), *step = sg_phrase(st, SG_PHRASE_pick_step);
            SgValue like = sg_eval(s, from->value[0]);
            if (like.nought && step && step->n) like = sg_eval(s, step->value[0]);
            t->state = SG_VALID;
            t->value = sg_value_number(chosen[version * n + k++], like.dim);
            t->value.unit = like.unit;
        }
}

static void solve_file(SgSolved *s)
{
    for (uint32_t i = 0; i < s->model->file.norder; i++) sg_solve_file_node(s, s->model->file.order[i].symbol);
}

/* The file's values as each version has them. */
static SgThing **file_versions(SgSolved *s)
{
    uint32_t n = s->model->file.nsymbols;
    SgThing **all = SG_ARRAY(s->c->arena, SgThing *, s->set.versions), *own = s->file_thing;
    for (uint32_t v = 0; v < s->set.versions; v++) {
        s->file_thing = all[v] = SG_ARRAY(s->c->arena, SgThing, n + 1);
        for (uint32_t i = 0; i < n; i++) all[v][i].state = SG_POISON;
        set_all(s, &s->model->file, s->set.file_chosen, v, all[v]);
        solve_file(s);
    }
    s->file_thing = own;
    return all;
}

void sg_solve_picks(SgSolved *s)
{
    const SgScope *file = &s->model->file, *figure = s->figure->scope;
    SgThing **versions = NULL;
    if (file->ngroups) {
        s->c->muted++;
        solve_file(s);
        s->c->muted--;
        if (!s->set.file_chosen) s->set.file_chosen = choose(&(Choice){ .s = s, .scope = file, .in_file = true, .versions = s->set.versions });
        if (!s->set.file_chosen) { s->broken = true; return; }
        set_all(s, file, s->set.file_chosen, s->set.version, s->file_thing);
    }
    if (!figure->ngroups) return;
    s->c->muted++;
    if (file->ngroups && !s->set.chosen) versions = file_versions(s);
    solve_file(s);
    s->c->muted--;
    if (!s->set.chosen) s->set.chosen = choose(&(Choice){ .s = s, .scope = figure, .versions = s->set.versions, .file_thing = versions });
    if (s->set.chosen) {
        s->c->muted++;
        for (uint32_t i = 0; i < figure->norder; i++) if (figure->symbol[figure->order[i].symbol].kind == SG_KIND_let) sg_solve_node(s, figure->order[i]);
        s->c->muted--;
        set_all(s, figure, s->set.chosen, s->set.version, s->thing);
    } else s->broken = true;
}
