/* Reads the drawn geometry of an SVG on its own. See svgread.h. */
#include "svgread.h"
#include <libxml/parser.h>
#include <libxml/tree.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double TURN = 6.283185307179586;

/* x' = a x + c y + e, y' = b x + d y + f */
typedef struct { double a, b, c, d, e, f; } Matrix;
/* Presentation attributes, inherited. */
typedef struct { Matrix m; uint32_t stroke, fill; bool stroked, filled, shown; double width; double dash[8]; uint32_t ndash; } Pen;
typedef struct { SvgDrawing *out; SvgShape now; uint32_t cap; SvgPoint here, start, control; char last; } Path;

/* ---- numbers ---- */
static const char *skip(const char *s)
{
    while (*s == ' ' || *s == ',' || *s == '\t' || *s == '\n' || *s == '\r') s++;
    return s;
}

static bool number(const char **at, double *v)
{
    const char *s = skip(*at);
    double sign = 1, under = 1;
    if (*s == '-' || *s == '+') sign = *s++ == '-' ? -1 : 1;
    if (!((*s >= '0' && *s <= '9') || (*s == '.' && s[1] >= '0' && s[1] <= '9'))) return false;
    for (*v = 0; *s >= '0' && *s <= '9'; s++) *v = *v * 10 + (*s - '0');
    if (*s == '.')
        for (s++; *s >= '0' && *s <= '9'; s++, under *= 10) *v = *v * 10 + (*s - '0');
    if ((*s == 'e' || *s == 'E') && ((s[1] >= '0' && s[1] <= '9') || ((s[1] == '-' || s[1] == '+') && s[2] >= '0' && s[2] <= '9'))) {
        bool down = *++s == '-';
        if (*s == '-' || *s == '+') s++;
        int power = 0;
        while (*s >= '0' && *s <= '9' && power < 400) power = power * 10 + (*s++ - '0');
        while (power-- > 0) { if (down) under *= 10; else under /= 10; }
    }
    *v = sign * *v / under;
    *at = s;
    return true;
}

static bool numbers(const char **at, double *v, int n)
{
    for (int i = 0; i < n; i++)
        if (!number(at, &v[i])) return false;
    return true;
}

/* ---- matrices ---- */
static Matrix times(Matrix p, Matrix q)
{
    return (Matrix){ p.a * q.a + p.c * q.b, p.b * q.a + p.d * q.b, p.a * q.c + p.c * q.d, p.b * q.c + p.d * q.d,
                     p.a * q.e + p.c * q.f + p.e, p.b * q.e + p.d * q.f + p.f };
}

static SvgPoint through(Matrix m, SvgPoint p) { return (SvgPoint){ m.a * p.x + m.c * p.y + m.e, m.b * p.x + m.d * p.y + m.f }; }

static bool one_transform(const char *name, size_t n, const double *v, int count, Matrix *m)
{
    *m = (Matrix){ 1, 0, 0, 1, 0, 0 };
#define CALLED(word) (n == sizeof(word) - 1 && !strncmp(name, word, n))
    if (CALLED("translate") && count >= 1) { m->e = v[0]; m->f = count > 1 ? v[1] : 0; return true; }
    if (CALLED("scale") && count >= 1) { m->a = v[0]; m->d = count > 1 ? v[1] : v[0]; return true; }
    if (CALLED("matrix") && count == 6) { *m = (Matrix){ v[0], v[1], v[2], v[3], v[4], v[5] }; return true; }
    if (CALLED("rotate") && (count == 1 || count == 3)) {
        double s = sin(v[0] * TURN / 360), c = cos(v[0] * TURN / 360);
        Matrix r = { c, s, -s, c, 0, 0 };
        if (count == 3) r = times(times((Matrix){ 1, 0, 0, 1, v[1], v[2] }, r), (Matrix){ 1, 0, 0, 1, -v[1], -v[2] });
        *m = r;
        return true;
    }
#undef CALLED
    return false;
}

static bool transform(const char *s, Matrix *m)
{
    for (s = skip(s); *s; s = skip(s)) {
        const char *name = s;
        while ((*s >= 'a' && *s <= 'z') || (*s >= 'A' && *s <= 'Z')) s++;
        size_t n = (size_t)(s - name);
        double v[6];
        int count = 0;
        s = skip(s);
        if (*s++ != '(') return false;
        while (count < 6 && number(&s, &v[count])) count++;
        s = skip(s);
        Matrix one;
        if (*s++ != ')' || !one_transform(name, n, v, count, &one)) return false;
        *m = times(*m, one);
    }
    return true;
}

/* ---- shapes ---- */
static void put(Path *p, SvgPoint at)
{
    if (p->now.n == p->cap) p->now.at = realloc(p->now.at, (p->cap = p->cap ? p->cap * 2 : 8) * sizeof *p->now.at);
    p->now.at[p->now.n++] = at;
}

/* A closed curved shape whose points all lie equally far from their middle is a circle. */
static void find_circle(SvgShape *s)
{
    if (!s->closed || !s->curved || s->n < 8) return;
    double x0 = s->at[0].x, x1 = x0, y0 = s->at[0].y, y1 = y0;
    for (uint32_t i = 1; i < s->n; i++) {
        if (s->at[i].x < x0) x0 = s->at[i].x;
        if (s->at[i].x > x1) x1 = s->at[i].x;
        if (s->at[i].y < y0) y0 = s->at[i].y;
        if (s->at[i].y > y1) y1 = s->at[i].y;
    }
    SvgPoint c = { (x0 + x1) / 2, (y0 + y1) / 2 };
    double r = (x1 - x0) / 2;
    for (uint32_t i = 0; i < s->n; i++)
        if (fabs(hypot(s->at[i].x - c.x, s->at[i].y - c.y) - r) > 0.01 * r + 0.002) return;
    s->round = true;
    s->centre = c;
    s->radius = r;
}

static void finish(Path *p, const Pen *pen)
{
    if (p->now.n < 2 || !pen->shown || !(pen->stroked || pen->filled)) { p->now.n = 0; p->now.closed = p->now.curved = false; return; }
    SvgShape s = p->now;
    double scale = sqrt(fabs(pen->m.a * pen->m.d - pen->m.b * pen->m.c));
    for (uint32_t i = 0; i < s.n; i++) s.at[i] = through(pen->m, s.at[i]);
    s.stroked = pen->stroked; s.filled = pen->filled;
    s.stroke = pen->stroke; s.fill = pen->fill;
    s.width = pen->width * scale;
    s.ndash = pen->ndash;
    for (uint32_t i = 0; i < s.ndash; i++) s.dash[i] = pen->dash[i] * scale;
    find_circle(&s);
    SvgDrawing *out = p->out;
    if (out->n == out->cap) out->shape = realloc(out->shape, (out->cap = out->cap ? out->cap * 2 : 64) * sizeof *out->shape);
    out->shape[out->n++] = s;
    p->now = (SvgShape){ 0 };
    p->cap = 0;
}

static void line_to(Path *p, SvgPoint to)
{
    if (!p->now.n) put(p, p->here);
    put(p, to);
    p->here = to;
}

static void cubic_to(Path *p, SvgPoint a, SvgPoint b, SvgPoint to)
{
    SvgPoint from = p->here;
    p->now.curved = true;
    for (int i = 1; i <= 16; i++) {
        double t = i / 16.0, u = 1 - t;
        line_to(p, (SvgPoint){ u * u * u * from.x + 3 * u * u * t * a.x + 3 * u * t * t * b.x + t * t * t * to.x,
                               u * u * u * from.y + 3 * u * u * t * a.y + 3 * u * t * t * b.y + t * t * t * to.y });
    }
    p->control = b;
}

static void quadratic_to(Path *p, SvgPoint c, SvgPoint to)
{
    SvgPoint f = p->here;
    cubic_to(p, (SvgPoint){ f.x + 2 * (c.x - f.x) / 3, f.y + 2 * (c.y - f.y) / 3 },
             (SvgPoint){ to.x + 2 * (c.x - to.x) / 3, to.y + 2 * (c.y - to.y) / 3 }, to);
    p->control = c;
}

/* From the end points of an elliptical arc to its centre: SVG 1.1, appendix F.6.5. */
static void arc_to(Path *p, double rx, double ry, double tilt_deg, bool large, bool sweep, SvgPoint to)
{
    SvgPoint from = p->here;
    rx = fabs(rx); ry = fabs(ry);
    if (rx == 0 || ry == 0 || (from.x == to.x && from.y == to.y)) { line_to(p, to); return; }
    p->now.curved = true;
    double cs = cos(tilt_deg * TURN / 360), sn = sin(tilt_deg * TURN / 360);
    double hx = (from.x - to.x) / 2, hy = (from.y - to.y) / 2;
    double x1 = cs * hx + sn * hy, y1 = -sn * hx + cs * hy;
    double over = x1 * x1 / (rx * rx) + y1 * y1 / (ry * ry);
    if (over > 1) { rx *= sqrt(over); ry *= sqrt(over); }
    double top = rx * rx * ry * ry - rx * rx * y1 * y1 - ry * ry * x1 * x1, under = rx * rx * y1 * y1 + ry * ry * x1 * x1;
    double k = top <= 0 ? 0 : sqrt(top / under) * (large == sweep ? -1 : 1);
    double cx1 = k * rx * y1 / ry, cy1 = -k * ry * x1 / rx;
    SvgPoint c = { cs * cx1 - sn * cy1 + (from.x + to.x) / 2, sn * cx1 + cs * cy1 + (from.y + to.y) / 2 };
    double first = atan2((y1 - cy1) / ry, (x1 - cx1) / rx), end = atan2((-y1 - cy1) / ry, (-x1 - cx1) / rx), by = end - first;
    if (sweep && by < 0) by += TURN;
    if (!sweep && by > 0) by -= TURN;
    for (int i = 1; i <= 24; i++) {
        double t = first + by * i / 24, x = rx * cos(t), y = ry * sin(t);
        line_to(p, i == 24 ? to : (SvgPoint){ c.x + cs * x - sn * y, c.y + sn * x + cs * y });
    }
}

/* One command of path data; false when its numbers are not there. */
static bool command(Path *p, const Pen *pen, char c, const char **s)
{
    bool relative = c >= 'a';
    char big = relative ? (char)(c - 32) : c;
    double v[7];
    SvgPoint o = relative ? p->here : (SvgPoint){ 0, 0 }, was = p->here;
    switch (big) {
    case 'M':
        if (!numbers(s, v, 2)) return false;
        finish(p, pen);
        p->here = p->start = (SvgPoint){ o.x + v[0], o.y + v[1] };
        break;
    case 'L': if (!numbers(s, v, 2)) return false; line_to(p, (SvgPoint){ o.x + v[0], o.y + v[1] }); break;
    case 'H': if (!numbers(s, v, 1)) return false; line_to(p, (SvgPoint){ o.x + v[0], was.y }); break;
    case 'V': if (!numbers(s, v, 1)) return false; line_to(p, (SvgPoint){ was.x, o.y + v[0] }); break;
    case 'C':
        if (!numbers(s, v, 6)) return false;
        cubic_to(p, (SvgPoint){ o.x + v[0], o.y + v[1] }, (SvgPoint){ o.x + v[2], o.y + v[3] }, (SvgPoint){ o.x + v[4], o.y + v[5] });
        break;
    case 'S': {
        if (!numbers(s, v, 4)) return false;
        bool smooth = p->last == 'C' || p->last == 'S';
        SvgPoint a = smooth ? (SvgPoint){ 2 * was.x - p->control.x, 2 * was.y - p->control.y } : was;
        cubic_to(p, a, (SvgPoint){ o.x + v[0], o.y + v[1] }, (SvgPoint){ o.x + v[2], o.y + v[3] });
        break;
    }
    case 'Q': if (!numbers(s, v, 4)) return false; quadratic_to(p, (SvgPoint){ o.x + v[0], o.y + v[1] }, (SvgPoint){ o.x + v[2], o.y + v[3] }); break;
    case 'T': {
        if (!numbers(s, v, 2)) return false;
        bool smooth = p->last == 'Q' || p->last == 'T';
        quadratic_to(p, smooth ? (SvgPoint){ 2 * was.x - p->control.x, 2 * was.y - p->control.y } : was, (SvgPoint){ o.x + v[0], o.y + v[1] });
        break;
    }
    case 'A':
        if (!numbers(s, v, 7)) return false;
        arc_to(p, v[0], v[1], v[2], v[3] != 0, v[4] != 0, (SvgPoint){ o.x + v[5], o.y + v[6] });
        break;
    case 'Z': p->now.closed = true; p->here = p->start; finish(p, pen); break;
    default: return false;
    }
    p->last = big;
    return true;
}

static bool path_data(Path *p, const Pen *pen, const char *s)
{
    char c = 0;
    for (s = skip(s); *s; s = skip(s)) {
        if ((*s >= 'a' && *s <= 'z') || (*s >= 'A' && *s <= 'Z')) c = *s++;
        else if (c == 'M') c = 'L';
        else if (c == 'm') c = 'l';
        else if (!c || c == 'z' || c == 'Z') return false;
        if (!command(p, pen, c, &s)) return false;
    }
    finish(p, pen);
    return true;
}

/* ---- attributes ---- */
static char *get(const xmlNode *n, const char *name) { return (char *)xmlGetNoNsProp((xmlNode *)n, (const xmlChar *)name); }

static double get_number(const xmlNode *n, const char *name, bool *good)
{
    char *s = get(n, name);
    double v = 0;
    const char *at = s;
    if (s && !number(&at, &v)) *good = false;
    xmlFree(s);
    return v;
}

static void paint(const xmlNode *n, const char *name, bool *used, uint32_t *rgb)
{
    char *s = get(n, name);
    if (!s) return;
    *used = strcmp(s, "none") != 0;
    unsigned v = 0;
    size_t digits = 0;
    if (*s == '#')
        for (; s[1 + digits] && strchr("0123456789abcdefABCDEF", s[1 + digits]); digits++) {
            char c = s[1 + digits];
            v = v * 16 + (unsigned)(c <= '9' ? c - '0' : (c | 32) - 'a' + 10);
        }
    if (digits == 3) v = (v >> 8) * 0x110000 + (v >> 4 & 15) * 0x1100 + (v & 15) * 0x11;
    *rgb = digits == 3 || digits == 6 ? v : !strcmp(s, "black") ? 0 : !strcmp(s, "white") ? 0xffffff : SVG_OTHER_COLOUR;
    xmlFree(s);
}

static void take(const xmlNode *n, Pen *pen, bool *good)
{
    char *s = get(n, "transform");
    if (s && !transform(s, &pen->m)) *good = false;
    xmlFree(s);
    paint(n, "stroke", &pen->stroked, &pen->stroke);
    paint(n, "fill", &pen->filled, &pen->fill);
    if ((s = get(n, "stroke-width"))) pen->width = get_number(n, "stroke-width", good);
    xmlFree(s);
    if ((s = get(n, "stroke-dasharray"))) {
        const char *at = s;
        for (pen->ndash = 0; strcmp(s, "none") && pen->ndash < 8 && number(&at, &pen->dash[pen->ndash]); pen->ndash++) {}
    }
    xmlFree(s);
    if ((s = get(n, "display")) && !strcmp(s, "none")) pen->shown = false;
    xmlFree(s);
    if ((s = get(n, "visibility")) && strcmp(s, "visible")) pen->shown = false;
    xmlFree(s);
    if ((s = get(n, "style"))) *good = false;      /* looks belong into presentation attributes; this reader takes no other */
    xmlFree(s);
}

static void element(SvgDrawing *out, const xmlNode *n, const Pen *pen, bool *good)
{
    const char *name = (const char *)n->name;
    Path p = { .out = out };
#define NUM(attribute) get_number(n, attribute, good)
    if (!strcmp(name, "path") || !strcmp(name, "polyline") || !strcmp(name, "polygon")) {
        bool is_path = !strcmp(name, "path");
        char *s = get(n, is_path ? "d" : "points");
        const char *at = s;
        double v[2];
        if (!s || (is_path && !path_data(&p, pen, s))) *good = false;
        if (s && !is_path) {
            while (numbers(&at, v, 2)) put(&p, (SvgPoint){ v[0], v[1] });
            if (*skip(at)) *good = false;
            p.now.closed = !strcmp(name, "polygon");
            finish(&p, pen);
        }
        xmlFree(s);
    } else if (!strcmp(name, "line")) {
        put(&p, (SvgPoint){ NUM("x1"), NUM("y1") });
        put(&p, (SvgPoint){ NUM("x2"), NUM("y2") });
        finish(&p, pen);
    } else if (!strcmp(name, "rect")) {
        double x = NUM("x"), y = NUM("y"), w = NUM("width"), h = NUM("height");
        put(&p, (SvgPoint){ x, y }); put(&p, (SvgPoint){ x + w, y }); put(&p, (SvgPoint){ x + w, y + h }); put(&p, (SvgPoint){ x, y + h });
        p.now.closed = true;
        finish(&p, pen);
    } else if (!strcmp(name, "circle") || !strcmp(name, "ellipse")) {
        bool circle = !strcmp(name, "circle");
        double rx = circle ? NUM("r") : NUM("rx"), ry = circle ? rx : NUM("ry"), x = NUM("cx"), y = NUM("cy");
        for (int i = 0; i < 32; i++) put(&p, (SvgPoint){ x + rx * cos(TURN * i / 32), y + ry * sin(TURN * i / 32) });
        p.now.closed = p.now.curved = true;
        finish(&p, pen);
    }
#undef NUM
    free(p.now.at);
}

static bool never_painted(const char *name)
{
    static const char *const NAMES[] = { "defs", "clipPath", "mask", "symbol", "marker", "pattern", "title", "desc", "metadata",
                                         "script", "style", "text", "use", "foreignObject" };
    for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
        if (!strcmp(name, NAMES[i])) return true;
    return false;
}

static void walk(SvgDrawing *out, const xmlNode *n, Pen pen, bool *good)
{
    if (n->type != XML_ELEMENT_NODE || never_painted((const char *)n->name)) return;
    take(n, &pen, good);
    element(out, n, &pen, good);
    for (const xmlNode *child = n->children; child; child = child->next) walk(out, child, pen, good);
}

/* A length of the root in mm. */
static double root_mm(const xmlNode *n, const char *name, bool *good)
{
    char *s = get(n, name);
    const char *at = s;
    double v = 0;
    if (!s || !number(&at, &v)) *good = false;
    else if (!strcmp(at, "cm")) v *= 10;
    else if (!strcmp(at, "in")) v *= 25.4;
    else if (!strcmp(at, "px") || !*at) v *= 25.4 / 96;
    else if (strcmp(at, "mm")) *good = false;
    xmlFree(s);
    return v;
}

SvgDrawing svg_read(const char *bytes, size_t length)
{
    SvgDrawing out = { 0 };
    xmlDoc *doc = xmlReadMemory(bytes, (int)length, NULL, NULL, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    xmlNode *root = doc ? xmlDocGetRootElement(doc) : NULL;
    if (root && !strcmp((const char *)root->name, "svg")) {
        bool good = true;
        double box[4] = { 0 };
        char *s = get(root, "viewBox");
        const char *at = s;
        out.width = root_mm(root, "width", &good);
        out.height = root_mm(root, "height", &good);
        if (!s || !numbers(&at, box, 4) || box[2] <= 0 || box[3] <= 0) good = false;
        xmlFree(s);
        if (good) {
            double k = out.width / box[2];
            if (fabs(out.height / box[3] - k) > 1e-6 * k) good = false;
            Pen pen = { .m = { k, 0, 0, k, -k * box[0], -k * box[1] }, .filled = true, .shown = true, .width = 1 };
            walk(&out, root, pen, &good);
        }
        out.well_formed = good;
    }
    xmlFreeDoc(doc);
    return out;
}

void svg_free(SvgDrawing *d)
{
    for (uint32_t i = 0; i < d->n; i++) free(d->shape[i].at);
    free(d->shape);
    *d = (SvgDrawing){ 0 };
}
