/* Marks and measures of the author: lines, circles, normals, produced lines, ruler, protractor, grid, axes; and the letters of
   automatic points. In: statements. Out: marks. What would be untrue on paper (an angle under unequal scales) is refused. */
#include "scene/build.h"
#include <math.h>

enum { NORMAL_HALF_MM = 14 };          /* on each side, on paper: 12 mm or more reads well (common practice) */

bool sg_scene_unequal(SgStage *g, const SgStatement *st, const char *what)
{
    if (!(g->s->along < g->s->up || g->s->along > g->s->up)) return false;
    sg_wrong(g->s, SG_MSG_scale_unequal, st->head_at, "under unequal scales %s on paper is not the real one; give along and up the same scale, or take it away", what);
    return true;
}

static bool number_of(SgStage *g, const SgStatement *st, SgPhraseId id, double *x)
{
    const SgPhrase *p = sg_phrase(st, id);
    const SgPhraseInfo *info = sg_phrase_info(id);
    if (!p || !p->n) return false;
    SgValue v = sg_eval_as(g->s, p->value[0], info->type, info->dim, info->word);
    *x = v.number;
    return v.state == SG_VALID;
}

static bool point_of(SgStage *g, const SgStatement *st, SgPhraseId id, SgPoint *at)
{
    const SgPhrase *p = sg_phrase(st, id);
    const SgPhraseInfo *info = sg_phrase_info(id);
    if (!p || !p->n) return false;
    SgValue v = sg_eval_as(g->s, p->value[0], info->type, SG_DIM_LENGTH, info->word);
    *at = v.point;
    return v.state == SG_VALID;
}

uint32_t sg_scene_ticks(SgStage *g, const SgStatement *st, SgPhraseId id)
{
    double n;
    if (!number_of(g, st, id, &n)) return 0;
    if (n >= 1 && n <= 3 && n <= floor(n)) return (uint32_t)n;
    sg_wrong(g->s, SG_MSG_ticks_wrong, sg_phrase(st, id)->at, "`ticks` takes 1, 2 or 3; write one of these");
    return 0;
}

/* A mark's own name is for the script; what stands beside it is its text, or what `named` says. */
static SgMark tool_mark(SgStage *g, const SgStatement *st, SgRole role)
{
    SgMark m = sg_mark_new(g, st, role);
    if (st->caption) m.words = sg_eval_text(g->s, st->caption);
    else if (!sg_phrase(st, SG_PHRASE_common_named)) m.words = SG_LIT("");
    return m;
}

/* ---- lines ---- */

static void line(SgStage *g, const SgStatement *st)
{
    SgPoint xy[2];
    if (!sg_mark_ends(g->s, st, SG_PHRASE_line_from, SG_PHRASE_line_to, &xy[0], &xy[1])) return;
    SgMark m = tool_mark(g, st, SG_ROLE_LINE);
    m.arrow = sg_phrase(st, SG_PHRASE_line_arrow) != NULL;
    m.ticks = sg_scene_ticks(g, st, SG_PHRASE_line_ticks);
    sg_mark_add(g, m, xy, 2);
}

static void normal(SgStage *g, const SgStatement *st)
{
    uint32_t element;
    SgPoint foot, along;
    if (sg_scene_unequal(g, st, "a normal") || !sg_mark_normal(g->s, st, &element, &foot, &along)) return;
    const SgSurface *f = &g->s->thing[element].element.surface;
    if (g->arc[element]) {                             /* where the arc is drawn, its foot lies on it */
        SgPoint centre = sg_pt_along(f->vertex, f->along, -f->radius_mm);
        foot = sg_pt_along(centre, along, f->radius_mm);
    }
    double half = NORMAL_HALF_MM / g->s->along;
    SgPoint xy[2] = { sg_pt_along(foot, along, -half), sg_pt_along(foot, along, half) };
    sg_mark_add(g, tool_mark(g, st, SG_ROLE_NORMAL), xy, 2);
}

/* The ray whose .in or .out an expression is; UINT32_MAX when it is none. */
static uint32_t ray_of(const SgStage *g, const SgExpr *e, bool *out)
{
    if (e->op != SG_E_PROPERTY || e->arg[0]->op != SG_E_SYMBOL || e->arg[0]->in_file) return UINT32_MAX;
    SgStr word = sg_names_str(&g->c->names, e->sym);
    *out = sg_str_is(word, "out");
    bool line_of_ray = g->scope->symbol[e->arg[0]->symbol].kind == SG_KIND_ray && (*out || sg_str_is(word, "in"));
    return line_of_ray ? e->arg[0]->symbol : UINT32_MAX;
}

static bool off_line(SgStage *g, const SgStatement *st, SgPoint start, SgPoint way, SgPoint to)
{
    SgPoint d = sg_pt_sub(to, start);
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_produce_to);
    double off = fabs(sg_pt_cross(d, way)), ahead = sg_pt_dot(d, way);
    if (off <= 1e-6 * (1 + sg_pt_length(d)) && ahead > 0) return false;
    if (off > 1e-6 * (1 + sg_pt_length(d))) {
        SgStr far = sg_show(g->s, sg_value_number(off, SG_DIM_LENGTH), SG_UNIT_mm, 2);
        sg_wrong(g->s, SG_MSG_mark_off_line, p->at, "this point lies %.*s off the line; name a point of the line", (int)far.n, far.s);
    } else sg_wrong(g->s, SG_MSG_mark_off_line, p->at, "this point lies the other way; write `%s` in place of `%s`",
                    sg_phrase(st, SG_PHRASE_produce_back) ? "on" : "back", sg_phrase(st, SG_PHRASE_produce_back) ? "back" : "on");
    return true;
}

static void produce(SgStage *g, const SgStatement *st)
{
    const SgPhrase *back = sg_phrase(st, SG_PHRASE_produce_back), *p = back ? back : sg_phrase(st, SG_PHRASE_produce_on);
    SgPoint to, ends[2];
    bool out = false;
    if (!p || !p->n || !point_of(g, st, SG_PHRASE_produce_to, &to)) return;
    SgValue v = sg_eval_as(g->s, p->value[0], SG_TYPE_LINE, SG_DIM_NUMBER, sg_phrase_info(p->id)->word);
    uint32_t ray = ray_of(g, p->value[0], &out);
    if (v.state != SG_VALID) return;
    if (ray == UINT32_MAX) {
        sg_wrong(g->s, SG_MSG_type_wrong, p->value[0]->at, "only the line of a ray is produced, such as a.out; for other lines write `line from ... to ...`");
        return;
    }
    const SgPath *path = &g->s->thing[ray].path;
    SgPoint in = path->start, leaving = path->start, direction = path->leg[out ? path->nhits : 0].direction;
    if (path->nhits) sg_scene_cut(g, path, out ? path->nhits - 1 : 0, &in, &leaving);
    ends[0] = out ? leaving : back ? path->start : in;
    if (off_line(g, st, ends[0], back ? sg_pt_scale(direction, -1) : direction, to)) return;
    ends[1] = to;
    SgMark m = tool_mark(g, st, SG_ROLE_PRODUCED);
    m.light = g->light[ray];
    if (!m.colour.n) m.colour = sg_mark_new(g, sg_statement_of(g->s, ray), SG_ROLE_RAY).colour;
    sg_mark_add(g, m, ends, 2);
}

/* ---- circles ---- */

static void circle(SgStage *g, const SgStatement *st)
{
    SgPoint centre, through;
    SgMark m = tool_mark(g, st, SG_ROLE_CIRCLE);
    if (sg_scene_unequal(g, st, "a circle") || !point_of(g, st, SG_PHRASE_circle_at, &centre)) return;
    if (sg_phrase(st, SG_PHRASE_circle_through)) {
        if (!point_of(g, st, SG_PHRASE_circle_through, &through)) return;
        m.radius_mm = sg_pt_distance(centre, through);
    } else if (!number_of(g, st, SG_PHRASE_circle_radius, &m.radius_mm)) return;
    if (!(m.radius_mm > 1e-9)) {
        sg_wrong(g->s, SG_MSG_not_positive, st->head_at, "the radius of a circle must be more than nought");
        return;
    }
    m.sweep_deg = 360;
    sg_mark_add(g, m, &centre, 1);
}

static void arc(SgStage *g, const SgStatement *st)
{
    SgPoint centre, from, to;
    if (sg_scene_unequal(g, st, "an arc") || !point_of(g, st, SG_PHRASE_arc_at, &centre) || !point_of(g, st, SG_PHRASE_arc_from, &from)
        || !point_of(g, st, SG_PHRASE_arc_to, &to)) return;
    SgPoint a = sg_pt_sub(from, centre), b = sg_pt_sub(to, centre);
    SgMark m = tool_mark(g, st, SG_ROLE_CIRCLE);
    m.radius_mm = sg_pt_length(a);
    if (!(m.radius_mm > 1e-9) || !(sg_pt_length(b) > 1e-9)) {
        sg_wrong(g->s, SG_MSG_not_positive, st->head_at, "an arc begins and ends away from its centre; move `from` or `to`");
        return;
    }
    m.from_deg = sg_atan2_deg(a.y_mm, a.x_mm);
    m.sweep_deg = sg_atan2_deg(sg_pt_cross(a, b), sg_pt_dot(a, b));
    m.arrow = sg_phrase(st, SG_PHRASE_arc_arrow) != NULL;
    sg_mark_add(g, m, &centre, 1);
}

/* ---- tools ---- */

static void protractor(SgStage *g, const SgStatement *st)
{
    SgPoint centre;
    double turned = 0;
    if (sg_scene_unequal(g, st, "an angle") || !point_of(g, st, SG_PHRASE_protractor_at, &centre)) return;
    if (sg_phrase(st, SG_PHRASE_protractor_turned) && !number_of(g, st, SG_PHRASE_protractor_turned, &turned)) return;
    SgMark m = tool_mark(g, st, SG_ROLE_PROTRACTOR);
    sg_sincos_deg((g->s->light.x_mm > 0 ? 180 : 0) + turned, &m.direction.y_mm, &m.direction.x_mm);
    sg_mark_add(g, m, &centre, 1);
}

static void ruler(SgStage *g, const SgStatement *st)
{
    SgPoint xy[2];
    if (!sg_mark_ends(g->s, st, SG_PHRASE_ruler_from, SG_PHRASE_ruler_to, &xy[0], &xy[1])) return;
    SgMark m = tool_mark(g, st, SG_ROLE_RULER);
    SgPoint way = sg_pt_sub(xy[1], xy[0]);
    bool above = sg_phrase(st, SG_PHRASE_ruler_above) != NULL;
    /* The left of its way is the upper side when it runs to the right, and the left one when it runs up. */
    bool left_is_upper = fabs(way.x_mm) > 1e-9 * sg_pt_length(way) ? way.x_mm > 0 : way.y_mm > 0;
    m.over = above == left_is_upper;
    sg_mark_add(g, m, xy, 2);
}

static void grid(SgStage *g, const SgStatement *st)
{
    SgMark m = tool_mark(g, st, SG_ROLE_GRID);
    if (!number_of(g, st, SG_PHRASE_grid_every, &m.pitch_mm)) return;
    if (m.pitch_mm < 1 || m.pitch_mm > 100) {
        sg_wrong(g->s, SG_MSG_out_of_range, sg_phrase(st, SG_PHRASE_grid_every)->at, "a grid's squares are between 1 mm and 10 cm on paper");
        return;
    }
    sg_mark_add(g, m, &(SgPoint){ 0, 0 }, 0);
}

static void cut(SgStage *g, const SgStatement *st)
{
    SgPoint at;
    if (point_of(g, st, SG_PHRASE_break_at, &at)) sg_mark_add(g, tool_mark(g, st, SG_ROLE_BREAK), &at, 1);
}

/* ---- axes ---- */

static void upright_axis(SgStage *g, const SgStatement *st)
{
    double x = 0, y[2] = { g->things.y0_mm, g->things.y1_mm };
    SgMark m = tool_mark(g, st, SG_ROLE_CROSS_AXIS);
    if (!sg_phrase(st, SG_PHRASE_axis_upright)) return;
    bool told = sg_phrase(st, SG_PHRASE_axis_at) && number_of(g, st, SG_PHRASE_axis_at, &x);
    if (!told) {
        if (!st->damaged) sg_wrong(g->s, SG_MSG_phrase_missing, st->head_at, "an upright axis needs `at`: where along the principal axis it stands");
        return;
    }
    number_of(g, st, SG_PHRASE_axis_from, &y[0]);
    number_of(g, st, SG_PHRASE_axis_to, &y[1]);
    m.fixed = sg_phrase(st, SG_PHRASE_axis_from) && sg_phrase(st, SG_PHRASE_axis_to);
    SgPoint xy[2] = { { x, y[0] }, { x, y[1] } };
    sg_mark_add(g, m, xy, 2);
}

bool sg_scene_axis(SgStage *g, SgMark *m, SgPoint *xy)
{
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {
        const SgStatement *st = &g->scope->statement[i];
        if (st->kind != SG_KIND_axis || sg_phrase(st, SG_PHRASE_axis_upright)) continue;
        if (sg_phrase(st, SG_PHRASE_axis_none) || sg_is_hidden(st)) return false;
        SgMark own = tool_mark(g, st, SG_ROLE_AXIS);
        if (own.words.n || sg_phrase(st, SG_PHRASE_common_unnamed)) m->words = own.words;
        m->at = own.at;
        m->colour = own.colour;
        m->shift_mm = own.shift_mm;
        number_of(g, st, SG_PHRASE_axis_from, &xy[0].x_mm);
        number_of(g, st, SG_PHRASE_axis_to, &xy[1].x_mm);
        m->fixed = sg_phrase(st, SG_PHRASE_axis_from) && sg_phrase(st, SG_PHRASE_axis_to);
    }
    return true;
}

bool sg_scene_measure(SgStage *g, const SgStatement *st)
{
    void (*make)(SgStage *, const SgStatement *) = NULL;
    if (st->kind == SG_KIND_line) make = line;
    if (st->kind == SG_KIND_normal) make = normal;
    if (st->kind == SG_KIND_produce) make = produce;
    if (st->kind == SG_KIND_circle) make = circle;
    if (st->kind == SG_KIND_arc) make = arc;
    if (st->kind == SG_KIND_protractor) make = protractor;
    if (st->kind == SG_KIND_ruler) make = ruler;
    if (st->kind == SG_KIND_grid) make = grid;
    if (st->kind == SG_KIND_break) make = cut;
    if (st->kind == SG_KIND_axis) make = upright_axis;
    if (make && !sg_is_hidden(st)) make(g, st);
    return make != NULL;
}

/* ---- letters of automatic points ---- */

typedef struct { SgKind kind; const char *letter; SgPhraseId id; uint32_t place; } Letter;
#define PRIME "\xE2\x80\xB2"
static const Letter letters[] = {
    { SG_KIND_mirror, "F", SG_PHRASE_mirror_focus_named, 0 }, { SG_KIND_mirror, "C", SG_PHRASE_mirror_centre_named, 0 },
    { SG_KIND_lens, "F", SG_PHRASE_lens_focus_named, 0 }, { SG_KIND_lens, "F" PRIME, SG_PHRASE_lens_focus_named, 1 },
    { SG_KIND_lens, "2F", SG_PHRASE_lens_twice_named, 0 }, { SG_KIND_lens, "2F" PRIME, SG_PHRASE_lens_twice_named, 1 },
    { SG_KIND_boundary, "F", SG_PHRASE_boundary_focus_named, 0 }, { SG_KIND_boundary, "F" PRIME, SG_PHRASE_boundary_focus_named, 1 },
    { SG_KIND_boundary, "C", SG_PHRASE_boundary_centre_named, 0 },
};

bool sg_scene_letter(SgStage *g, const SgStatement *st, const char *letter, SgStr *words, bool *asked)
{
    *asked = false;
    if (sg_phrase(st, SG_PHRASE_mirror_unmarked) || sg_phrase(st, SG_PHRASE_lens_unmarked) || sg_phrase(st, SG_PHRASE_boundary_unmarked)) return false;
    for (size_t i = 0; i < sizeof letters / sizeof *letters; i++) {
        if (letters[i].kind != st->kind || !sg_str_is(sg_str(letter), letters[i].letter)) continue;
        const SgPhrase *p = sg_phrase(st, letters[i].id);
        if (!p || p->n <= letters[i].place) return true;
        *words = sg_eval_text(g->s, p->value[letters[i].place]);
        *asked = words->n > 0;
        return words->n > 0;
    }
    return true;
}

void sg_scene_middle(SgStage *g, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(g->s, symbol);
    SgPhraseId id = st->kind == SG_KIND_mirror ? SG_PHRASE_mirror_vertex_named : st->kind == SG_KIND_lens ? SG_PHRASE_lens_centre_named
                                                                                                       : SG_PHRASE_boundary_vertex_named;
    const SgPhrase *p = sg_phrase(st, id);
    SgPoint at;
    bool by_convention = !p && st->kind == SG_KIND_mirror && g->s->convention.vertex.n > 0 && !sg_phrase(st, SG_PHRASE_mirror_unmarked);
    if (((!p || !p->n) && !by_convention) || !sg_default_point(g->s, symbol, true, &at)) return;
    SgMark m = sg_mark_new(g, st, SG_ROLE_TICK);
    m.words = by_convention ? g->s->convention.vertex : sg_eval_text(g->s, p->value[0]);
    m.direction = g->s->thing[symbol].element.surface.along;
    if (m.words.n) sg_mark_add(g, m, &at, 1);
}
