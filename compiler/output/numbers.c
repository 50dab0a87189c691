/* output: the numbers behind the figures.
   in     solved figures.
   out    a table for people, JSON for programs; both in the order of the script.
   never  rounds below 15 significant digits, draws, or says a message. */
#include "output/numbers.h"
#include "base/num.h"
#include "layout/shape.h"
#include "solved/worked.h"

/* ---- what a value is measured in ---- */
static bool is_dim(SgDim d, int length, int angle) { return d.length == length && d.angle == angle; }

static SgUnit table_unit(const SgSolved *s, SgValue v)
{
    if (v.unit < SG_UNIT_COUNT && v.unit != SG_UNIT_sf && sg_same_dim(sg_unit_info(v.unit)->dim, v.dim)) return v.unit;
    if (is_dim(v.dim, -1, 0)) return SG_UNIT_D;
    if (is_dim(v.dim, 0, 1)) return SG_UNIT_deg;
    return sg_figure_length_unit(s);
}

static SgUnit canonical_unit(SgDim dim)
{
    if (is_dim(dim, -1, 0)) return SG_UNIT_D;
    return is_dim(dim, 0, 1) ? SG_UNIT_deg : SG_UNIT_mm;
}

static void put_power_of(SgBuf *out, const char *unit, int exponent)
{
    sg_puts(out, unit);
    if (exponent != 1) sg_putf(out, "^%d", exponent);
}

/* The name of `dim` when lengths are counted in `unit`: "cm", "cm^2", "D", "cm^-2 deg"; nothing for a plain number. */
static void put_unit(SgBuf *out, SgDim dim, SgUnit unit)
{
    const SgUnitInfo *info = sg_unit_info(unit);
    if (sg_same_dim(info->dim, dim)) {
        sg_puts(out, info->spelling);
        return;
    }
    if (dim.length != 0) put_power_of(out, info->spelling, dim.length);
    if (dim.length != 0 && dim.angle != 0) sg_put_char(out, ' ');
    if (dim.angle != 0) put_power_of(out, "deg", dim.angle);
}

static double in_unit(double canonical, SgDim dim, SgUnit unit)
{
    double factor = sg_unit_factor(unit);
    if (sg_same_dim(sg_unit_info(unit)->dim, dim)) return canonical / factor;
    for (int k = 0; k < dim.length; k++) canonical /= factor;
    for (int k = 0; k > dim.length; k--) canonical *= factor;
    return canonical;
}

static bool is_number(double x) { return x - x == 0; }

/* ---- one value, for people ---- */
static void put_quantity(SgBuf *out, double canonical, SgDim dim, SgUnit unit)
{
    sg_put_full(out, in_unit(canonical, dim, unit));
    if (is_dim(dim, 0, 0)) return;
    sg_put_char(out, ' ');
    put_unit(out, dim, unit);
}

static void put_place(SgBuf *out, SgPoint p, SgUnit unit)
{
    static const SgDim length = { 1, 0 };
    sg_put_char(out, '(');
    sg_put_full(out, in_unit(p.x_mm, length, unit));
    sg_puts(out, ", ");
    sg_put_full(out, in_unit(p.y_mm, length, unit));
    sg_puts(out, ") ");
    sg_puts(out, sg_unit_info(unit)->spelling);
}

static double direction_deg(SgPoint direction) { return sg_atan2_deg(direction.y_mm, direction.x_mm); }

static void put_line(SgBuf *out, SgPoint through, SgPoint direction, SgUnit unit)
{
    sg_puts(out, "through ");
    put_place(out, through, unit);
    sg_puts(out, " at ");
    sg_put_full(out, direction_deg(direction));
    sg_puts(out, " deg");
}

static SgState state_of(SgValue v)
{
    bool broken = (v.type == SG_TYPE_NUMBER && !is_number(v.number))
        || (v.type == SG_TYPE_POINT && !(is_number(v.point.x_mm) && is_number(v.point.y_mm)));
    return v.state == SG_VALID && broken ? SG_UNDEFINED : v.state;
}

void sg_output_value(const SgSolved *s, SgValue v, SgBuf *out)
{
    SgState state = state_of(v);
    if (state == SG_INFINITE) {
        sg_puts(out, "at infinity");
    } else if (state != SG_VALID) {
        sg_puts(out, "undefined");
        if (v.why != NULL) sg_putf(out, ": %s", v.why);
    } else if (v.type == SG_TYPE_NUMBER) {
        put_quantity(out, v.number, v.dim, table_unit(s, v));
    } else if (v.type == SG_TYPE_TRUTH) {
        sg_puts(out, v.truth ? "true" : "false");
    } else if (v.type == SG_TYPE_TEXT) {
        sg_put_str(out, sg_plain(s->c->arena, v.text));
    } else if (v.type == SG_TYPE_POINT) {
        put_place(out, v.point, sg_figure_length_unit(s));
    } else if (v.type == SG_TYPE_LINE) {
        put_line(out, v.line.through, v.line.direction, sg_figure_length_unit(s));
    }
}

/* ---- what a figure holds ---- */
static bool has_properties(SgKind kind)
{
    for (int p = 0; p < SG_PROPERTY_COUNT; p++)
        if (sg_property_info((SgPropertyId)p)->kind == kind) return true;
    return false;
}

static bool is_value(const SgSymbol *symbol) { return symbol->parameter || sg_is_value_kind(symbol->kind); }

static const char *kind_word(const SgSymbol *symbol) { return symbol->parameter ? "parameter" : symbol->kind == SG_KIND_pick ? "pick" : "let"; }

static SgStr name_of(const SgSolved *s, SgSym sym)
{
    return sym == SG_NO_SYM ? SG_LIT("") : sg_names_str(&s->c->names, sym);
}

static uint32_t line_of(const SgSolved *s, SgSpan at)
{
    return sg_text_place(&s->c->source[at.file], at.start).line;
}

static SgStr title_of(SgSolved *s)
{
    if (s->figure->title == NULL) return SG_LIT("");
    return sg_plain(s->c->arena, sg_eval_text(s, s->figure->title));
}

/* ---- the table ---- */
typedef struct { SgStr name, kind, quantity, value; } Row;
typedef struct { SgSolved *s; SG_VEC(Row) rows; } Table;

static void add_row(Table *t, SgStr name, SgStr kind, SgStr quantity, SgStr value)
{
    Row row = { name, kind, quantity, value };
    SG_PUSH(t->s->c->arena, &t->rows, row);
}

static SgStr value_text(const SgSolved *s, SgValue v)
{
    SgBuf b = { .arena = s->c->arena };
    sg_output_value(s, v, &b);
    return sg_buf_str(&b);
}

static SgStr line_text(const SgSolved *s, SgRayLine leg)
{
    SgBuf b = { .arena = s->c->arena };
    put_line(&b, leg.start, leg.direction, sg_figure_length_unit(s));
    return sg_buf_str(&b);
}

static void add_path(Table *t, const SgPath *path)
{
    SgSolved *s = t->s;
    SgUnit unit = sg_figure_length_unit(s);
    if (path->leg == NULL) return;
    SgBuf start = { .arena = s->c->arena };
    put_place(&start, path->start, unit);
    add_row(t, SG_LIT(""), SG_LIT(""), SG_LIT("start"), sg_buf_str(&start));
    for (uint32_t k = 0; k < path->nhits; k++) {
        SgBuf b = { .arena = s->c->arena };
        put_place(&b, path->hit[k].at, unit);
        if (path->hit[k].outside) sg_puts(&b, ", outside its edge");
        SgStr whom = name_of(s, s->figure->scope->symbol[path->met[k]].name);
        add_row(t, SG_LIT(""), SG_LIT(""), sg_format(s->c->arena, "meets %.*s", (int)whom.n, whom.s), sg_buf_str(&b));
    }
    add_row(t, SG_LIT(""), SG_LIT(""), SG_LIT("leaves"), line_text(s, path->leg[path->nhits]));
}

/* The same numbers as the convention that is set has them. */
static void add_worked(Table *t, uint32_t image)
{
    SgStr line[SG_WORKED_LINES];
    uint32_t n = sg_worked(t->s, image, 4, line);
    for (uint32_t k = 0; k < n; k++) add_row(t, SG_LIT(""), SG_LIT(""), k == 0 ? sg_format(t->s->c->arena, "by %s", t->s->convention.name) : SG_LIT(""), sg_plain(t->s->c->arena, line[k]));
}

static void add_thing(Table *t, uint32_t i)
{
    SgSolved *s = t->s;
    const SgSymbol *symbol = &s->figure->scope->symbol[i];
    SgStr name = name_of(s, symbol->name);
    if (name.n == 0) name = sg_format(s->c->arena, "line %u", (unsigned)line_of(s, symbol->at));
    SgStr kind = sg_str(sg_kind_info(symbol->kind)->word);
    for (int p = 0; p < SG_PROPERTY_COUNT; p++) {
        const SgPropertyInfo *info = sg_property_info((SgPropertyId)p);
        if (info->kind != symbol->kind) continue;
        add_row(t, name, kind, sg_str(info->word), value_text(s, sg_property(s, i, (SgPropertyId)p, symbol->at)));
        name = kind = SG_LIT("");
    }
    if (symbol->kind == SG_KIND_ray) add_path(t, &s->thing[i].path);
    if (symbol->kind == SG_KIND_image && s->convention.name != NULL) add_worked(t, i);
}

static void add_values(Table *t, const SgScope *scope, const SgThing *thing)
{
    for (uint32_t i = 0; thing != NULL && i < scope->nsymbols; i++) {
        const SgSymbol *symbol = &scope->symbol[i];
        if (!is_value(symbol) || (scope == &t->s->model->file && symbol->at.file)) continue;      /* not of a used file */
        SgStr kind = sg_str(kind_word(symbol));
        add_row(t, name_of(t->s, symbol->name), kind, SG_LIT(""), value_text(t->s, thing[i].value));
    }
}

static void put_cell(SgBuf *out, SgStr cell, uint32_t width)
{
    sg_put_str(out, cell);
    for (uint32_t n = sg_utf8_count(cell); n < width; n++) sg_put_char(out, ' ');
    sg_puts(out, "  ");
}

static uint32_t wider(uint32_t width, SgStr cell)
{
    uint32_t n = sg_utf8_count(cell);
    return n > width ? n : width;
}

static void put_rows(const Table *t, SgBuf *out)
{
    uint32_t name = 0, kind = 0, quantity = 0;
    for (uint32_t i = 0; i < t->rows.n; i++) {
        name = wider(name, t->rows.v[i].name);
        kind = wider(kind, t->rows.v[i].kind);
        quantity = wider(quantity, t->rows.v[i].quantity);
    }
    for (uint32_t i = 0; i < t->rows.n; i++) {
        const Row *row = &t->rows.v[i];
        sg_puts(out, "  ");
        put_cell(out, row->name, name);
        put_cell(out, row->kind, kind);
        put_cell(out, row->quantity, quantity);
        sg_put_str(out, row->value);
        sg_put_char(out, '\n');
    }
}

void sg_output_table(SgSolved *const *solved, uint32_t nsolved, SgBuf *out)
{
    for (uint32_t k = 0; k < nsolved; k++) {
        SgSolved *s = solved[k];
        Table t = { .s = s };
        add_values(&t, &s->model->file, s->file_thing);
        add_values(&t, s->figure->scope, s->thing);
        for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++) {
            const SgSymbol *symbol = &s->figure->scope->symbol[i];
            if (!is_value(symbol) && has_properties(symbol->kind)) add_thing(&t, i);
        }
        if (k > 0) sg_put_char(out, '\n');
        SgStr title = title_of(s);
        sg_puts(out, "figure ");
        sg_put_str(out, name_of(s, s->figure->name));
        if (title.n > 0) sg_puts(out, ": ");
        sg_put_str(out, title);
        sg_put_char(out, '\n');
        put_rows(&t, out);
    }
}

/* ---- for a class ---- */
static const struct { SgPropertyId id; SgTextId text; } worked[] = {
    { SG_PROPERTY_mirror_focal, SG_TEXT_worked_focal }, { SG_PROPERTY_mirror_radius, SG_TEXT_worked_radius },
    { SG_PROPERTY_mirror_aperture, SG_TEXT_worked_aperture }, { SG_PROPERTY_lens_focal, SG_TEXT_worked_focal },
    { SG_PROPERTY_lens_power, SG_TEXT_worked_power }, { SG_PROPERTY_lens_aperture, SG_TEXT_worked_aperture },
    { SG_PROPERTY_boundary_radius, SG_TEXT_worked_radius }, { SG_PROPERTY_boundary_power, SG_TEXT_worked_power },
    { SG_PROPERTY_stop_opening, SG_TEXT_worked_opening }, { SG_PROPERTY_system_focal, SG_TEXT_worked_focal },
    { SG_PROPERTY_system_power, SG_TEXT_worked_power }, { SG_PROPERTY_system_magnifying_power, SG_TEXT_worked_magnifying_power },
    { SG_PROPERTY_object_height, SG_TEXT_worked_height }, { SG_PROPERTY_image_nature, SG_TEXT_worked_nature },
    { SG_PROPERTY_image_distance, SG_TEXT_worked_distance }, { SG_PROPERTY_image_height, SG_TEXT_worked_height },
    { SG_PROPERTY_image_magnification, SG_TEXT_worked_magnification },
};
static const struct { SgKind kind; SgTextId text; } worked_kind[] = {
    { SG_KIND_mirror, SG_TEXT_worked_mirror }, { SG_KIND_lens, SG_TEXT_worked_lens }, { SG_KIND_boundary, SG_TEXT_worked_boundary },
    { SG_KIND_stop, SG_TEXT_worked_stop }, { SG_KIND_system, SG_TEXT_worked_system }, { SG_KIND_object, SG_TEXT_worked_object },
    { SG_KIND_image, SG_TEXT_worked_image },
};

static bool is_told(SgValue v)
{
    SgState state = state_of(v);
    return state == SG_INFINITE || (state == SG_VALID && (v.type == SG_TYPE_NUMBER || v.type == SG_TYPE_TEXT));
}

static void put_told(SgBuf *b, SgSolved *s, SgValue v)
{
    if (state_of(v) == SG_INFINITE) { sg_put_str(b, s->wording->text[SG_TEXT_at_infinity]); return; }
    SgStr shown = sg_show(s, v, SG_UNIT_COUNT, -1);
    if (v.type == SG_TYPE_NUMBER) shown = sg_shown_number(b->arena, s->wording, shown);
    for (uint32_t i = 0; i < shown.n; i++) {               /* a number and its unit stay on one line */
        if (shown.s[i] == ' ' && v.type == SG_TYPE_NUMBER) sg_puts(b, "\xC2\xA0");
        else sg_put_char(b, shown.s[i]);
    }
}

static SgStr worked_out(SgSolved *s, uint32_t symbol)
{
    SgBuf b = { .arena = s->c->arena };
    for (size_t p = 0; p < sizeof worked / sizeof *worked; p++) {
        const SgPropertyInfo *info = sg_property_info(worked[p].id);
        if (info->kind != s->figure->scope->symbol[symbol].kind) continue;
        SgValue v = sg_property(s, symbol, worked[p].id, s->figure->scope->symbol[symbol].at);
        bool nature = worked[p].id == SG_PROPERTY_image_nature;
        /* Where an image is at infinity its nature says so, and once is enough. */
        if (!is_told(v) || (info->kind == SG_KIND_image && !nature && state_of(v) == SG_INFINITE)) continue;
        if (b.n > 0) sg_puts(&b, ", ");
        SgBuf value = { .arena = s->c->arena };
        put_told(&value, s, v);
        sg_put_filled(&b, s->wording, worked[p].text, &(SgHole){ "value", sg_buf_str(&value) }, 1);
    }
    return b.n > 0 ? sg_buf_str(&b) : SG_LIT("");
}

SgNumberRow *sg_output_worked(SgSolved *s, uint32_t *n)
{
    const SgScope *scope[] = { &s->model->file, s->figure->scope };
    const SgThing *thing[] = { s->file_thing, s->thing };
    SG_VEC(SgNumberRow) rows = { 0 };
    for (int k = 0; k < 2; k++)
        for (uint32_t i = 0; thing[k] != NULL && i < scope[k]->nsymbols; i++) {
            const SgSymbol *symbol = &scope[k]->symbol[i];
            bool value = is_value(symbol);
            if (value ? !is_told(thing[k][i].value) || (k == 0 && symbol->at.file) : k == 0 || symbol->name == SG_NO_SYM) continue;
            SgStr name = name_of(s, symbol->name);
            SgBuf b = { .arena = s->c->arena };
            if (value) put_told(&b, s, thing[k][i].value);
            SgStr values = value ? sg_buf_str(&b) : worked_out(s, i);
            if (values.n == 0) continue;
            for (size_t w = 0; w < sizeof worked_kind / sizeof *worked_kind; w++)
                if (symbol->kind == worked_kind[w].kind) name = sg_filled(s->c->arena, s->wording, worked_kind[w].text, &(SgHole){ "name", name }, 1);
            SgNumberRow row = { name, values };
            SG_PUSH(s->c->arena, &rows, row);
        }
    *n = rows.n;
    return rows.v;
}

/* ---- JSON ---- */
static void put_json_text(SgBuf *out, SgStr text)
{
    sg_put_char(out, '"');
    for (uint32_t i = 0; i < text.n; i++) {
        unsigned char byte = (unsigned char)text.s[i];
        if (byte == '"' || byte == '\\') sg_putf(out, "\\%c", byte);
        else if (byte < 0x20) sg_putf(out, "\\u%04x", (unsigned)byte);
        else sg_put_char(out, (char)byte);
    }
    sg_put_char(out, '"');
}

static void put_json_place(SgBuf *out, SgPoint p)
{
    sg_put_char(out, '[');
    sg_put_full(out, p.x_mm);
    sg_puts(out, ", ");
    sg_put_full(out, p.y_mm);
    sg_put_char(out, ']');
}

static void put_json_line(SgBuf *out, SgPoint through, SgPoint direction)
{
    sg_puts(out, "{\"through\": ");
    put_json_place(out, through);
    sg_puts(out, ", \"unit\": \"mm\", \"direction\": ");
    sg_put_full(out, direction_deg(direction));
    sg_puts(out, ", \"direction_unit\": \"deg\"}");
}

static void put_json_known(SgBuf *out, const SgSolved *s, SgValue v)
{
    sg_puts(out, "\"value\": ");
    if (v.type == SG_TYPE_NUMBER) {
        SgUnit unit = canonical_unit(v.dim);
        sg_put_full(out, in_unit(v.number, v.dim, unit));
        sg_puts(out, ", \"unit\": \"");
        put_unit(out, v.dim, unit);
        sg_put_char(out, '"');
    } else if (v.type == SG_TYPE_POINT) {
        put_json_place(out, v.point);
        sg_puts(out, ", \"unit\": \"mm\"");
    } else if (v.type == SG_TYPE_LINE) {
        put_json_line(out, v.line.through, v.line.direction);
    } else if (v.type == SG_TYPE_TRUTH) {
        sg_puts(out, v.truth ? "true" : "false");
    } else {
        put_json_text(out, v.type == SG_TYPE_TEXT ? sg_plain(s->c->arena, v.text) : SG_LIT(""));
    }
}

/* The members of a value's object, without its braces. */
static void put_json_value(SgBuf *out, const SgSolved *s, SgValue v)
{
    SgState state = state_of(v);
    if (state == SG_VALID) {
        sg_puts(out, "\"state\": \"known\", ");
        put_json_known(out, s, v);
    } else if (state == SG_INFINITE) {
        sg_puts(out, "\"state\": \"at infinity\"");
    } else {
        sg_puts(out, "\"state\": \"undefined\", \"reason\": ");
        put_json_text(out, v.why != NULL ? sg_str(v.why) : SG_LIT("it has no value"));
    }
}

/* Starts the next member of a list that is written one a line. */
static void put_json_next(SgBuf *out, bool *first, const char *indent)
{
    sg_puts(out, *first ? "\n" : ",\n");
    sg_puts(out, indent);
    *first = false;
}

static void put_json_values(SgBuf *out, const SgSolved *s, const SgScope *scope, const SgThing *thing, bool *first)
{
    for (uint32_t i = 0; thing != NULL && i < scope->nsymbols; i++) {
        const SgSymbol *symbol = &scope->symbol[i];
        if (!is_value(symbol) || (scope == &s->model->file && symbol->at.file)) continue;
        put_json_next(out, first, "        ");
        sg_puts(out, "{\"name\": ");
        put_json_text(out, name_of(s, symbol->name));
        sg_putf(out, ", \"kind\": \"%s\", ", kind_word(symbol));
        put_json_value(out, s, thing[i].value);
        sg_put_char(out, '}');
    }
}

static void put_json_path(SgBuf *out, const SgSolved *s, const SgPath *path)
{
    sg_puts(out, ",\n          \"path\": {\n            \"start\": ");
    put_json_place(out, path->start);
    sg_puts(out, ", \"unit\": \"mm\",\n            \"meetings\": [");
    bool first = true;
    for (uint32_t k = 0; k < path->nhits; k++) {
        put_json_next(out, &first, "              ");
        sg_puts(out, "{\"thing\": ");
        put_json_text(out, name_of(s, s->figure->scope->symbol[path->met[k]].name));
        sg_puts(out, ", \"at\": ");
        put_json_place(out, path->hit[k].at);
        sg_putf(out, ", \"outside_edge\": %s}", path->hit[k].outside ? "true" : "false");
    }
    sg_puts(out, first ? "],\n" : "\n            ],\n");
    sg_puts(out, "            \"leaves\": ");
    put_json_line(out, path->leg[path->nhits].start, path->leg[path->nhits].direction);
    sg_puts(out, "\n          }");
}

static void put_json_thing(SgBuf *out, SgSolved *s, uint32_t i)
{
    const SgSymbol *symbol = &s->figure->scope->symbol[i];
    sg_puts(out, "{\n          \"name\": ");
    if (symbol->name == SG_NO_SYM) sg_puts(out, "null");
    else put_json_text(out, name_of(s, symbol->name));
    sg_putf(out, ", \"kind\": \"%s\", \"line\": %u,\n          \"properties\": {", sg_kind_info(symbol->kind)->word,
        (unsigned)line_of(s, symbol->at));
    bool first = true;
    for (int p = 0; p < SG_PROPERTY_COUNT; p++) {
        const SgPropertyInfo *info = sg_property_info((SgPropertyId)p);
        if (info->kind != symbol->kind) continue;
        put_json_next(out, &first, "            ");
        sg_putf(out, "\"%s\": {", info->word);
        put_json_value(out, s, sg_property(s, i, (SgPropertyId)p, symbol->at));
        sg_put_char(out, '}');
    }
    sg_puts(out, "\n          }");
    if (symbol->kind == SG_KIND_ray && s->thing[i].path.leg != NULL) put_json_path(out, s, &s->thing[i].path);
    sg_puts(out, "\n        }");
}

static void put_json_figure(SgBuf *out, SgSolved *s)
{
    const SgScope *scope = s->figure->scope;
    sg_puts(out, "{\n      \"figure\": ");
    put_json_text(out, name_of(s, s->figure->name));
    sg_puts(out, ",\n      \"title\": ");
    put_json_text(out, title_of(s));
    sg_puts(out, ",\n      \"values\": [");
    bool first = true;
    put_json_values(out, s, &s->model->file, s->file_thing, &first);
    put_json_values(out, s, scope, s->thing, &first);
    sg_puts(out, first ? "],\n" : "\n      ],\n");
    sg_puts(out, "      \"things\": [");
    first = true;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        if (is_value(&scope->symbol[i]) || !has_properties(scope->symbol[i].kind)) continue;
        put_json_next(out, &first, "        ");
        put_json_thing(out, s, i);
    }
    sg_puts(out, first ? "]\n    }" : "\n      ]\n    }");
}

void sg_output_json(SgSolved *const *solved, uint32_t nsolved, const char *version, SgBuf *out)
{
    sg_puts(out, "{\n  \"sagitta\": ");
    put_json_text(out, sg_str(version));
    sg_puts(out, ",\n  \"figures\": [");
    bool first = true;
    for (uint32_t k = 0; k < nsolved; k++) {
        put_json_next(out, &first, "    ");
        put_json_figure(out, solved[k]);
    }
    sg_puts(out, first ? "]\n}\n" : "\n  ]\n}\n");
}
