/* Presentations against the page of slides of the same figures: a click a step and a question, every straight line where the
   page's SVG has it, no frame without words, wipes that begin where the light comes from, nothing that is never revealed.
   in: every demo. Both are read here, with libxml2. */
#include <criterion/criterion.h>
#include <libxml/parser.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/files.h"

typedef struct { double x, y; } Point;
typedef struct { Point *v; size_t n, cap; } Points;
typedef struct { char *v[4000]; size_t n; } Texts;
typedef void Visit(xmlNode *node, void *with);

static void add_point(Points *p, double x, double y)
{
    if (p->n == p->cap) p->v = realloc(p->v, sizeof *p->v * (p->cap = p->cap ? 2 * p->cap : 64));
    p->v[p->n++] = (Point){ x, y };
}

static void walk(xmlNode *node, Visit *visit, void *with)
{
    for (; node; node = node->next) {
        if (node->type == XML_ELEMENT_NODE) visit(node, with);
        walk(node->children, visit, with);
    }
}

static bool named(const xmlNode *node, const char *name) { return strcmp((const char *)node->name, name) == 0; }

/* Attributes by their local name; "" when not there. The text lives as long as the document. */
static const char *attribute(const xmlNode *node, const char *name)
{
    for (const xmlAttr *a = node->properties; a; a = a->next)
        if (strcmp((const char *)a->name, name) == 0 && a->children) return (const char *)a->children->content;
    return "";
}

static double millimetres(const xmlNode *node, const char *name)
{
    double value = NAN;
    const char *end = "", *text = attribute(node, name);
    cr_assert(test_number(text, &value, &end) && strcmp(end, "mm") == 0, "%s=\"%s\" is no length in mm", name, text);
    return value;
}

/* ---- shapes ---- */
static void corners_of(const xmlNode *node, Points *p)
{
    if (named(node, "line")) {
        add_point(p, millimetres(node, "x1"), millimetres(node, "y1"));
        add_point(p, millimetres(node, "x2"), millimetres(node, "y2"));
    } else if (named(node, "polyline") || named(node, "polygon")) {
        double x = millimetres(node, "x"), y = millimetres(node, "y"), w = millimetres(node, "width"), h = millimetres(node, "height");
        long left, top, bw, bh, px, py;
        cr_assert_eq(sscanf(attribute(node, "viewBox"), "%ld %ld %ld %ld", &left, &top, &bw, &bh), 4);
        cr_assert(bw > 0 && bh > 0 && left == 0 && top == 0);
        for (const char *s = attribute(node, "points"); s; s = strchr(s, ' ') ? strchr(s, ' ') + 1 : NULL) {
            cr_assert_eq(sscanf(s, "%ld,%ld", &px, &py), 2);
            add_point(p, x + w * (double)px / (double)bw, y + h * (double)py / (double)bh);
        }
    }
}

static void take_corners(xmlNode *node, void *with) { corners_of(node, with); }

static void box_of(const Points *p, Point *low, Point *high)
{
    *low = *high = p->v[0];
    for (size_t i = 1; i < p->n; i++) {
        *low = (Point){ fmin(low->x, p->v[i].x), fmin(low->y, p->v[i].y) };
        *high = (Point){ fmax(high->x, p->v[i].x), fmax(high->y, p->v[i].y) };
    }
}

static size_t without_partner(const Points *a, const Points *b, double within)
{
    size_t alone = 0;
    for (size_t i = 0; i < a->n; i++) {
        size_t k = 0;
        while (k < b->n && (fabs(a->v[i].x - b->v[k].x) > within || fabs(a->v[i].y - b->v[k].y) > within)) k++;
        alone += k == b->n;
    }
    return alone;
}

/* Straight outlines of an SVG as this compiler writes them, where it paints them: M and L with pairs of numbers. */
static void take_path(xmlNode *node, void *with)
{
    double x, y;
    const char *d = attribute(node, "d"), *end = d + 1;
    if (!named(node, "path") || named(node->parent, "defs") || named(node->parent, "clipPath") || strpbrk(d, "Aqlhv")) return;
    while (*d == 'M' || *d == 'L') {
        cr_assert(test_number(d + 1, &x, &end) && *end == ' ');
        cr_assert(test_number(end + 1, &y, &end));
        add_point(with, x, y);
        d = end;
    }
    cr_assert(*d == '\0' || *d == 'Z', "%s", d);
}

/* The slide's corners are the drawing's, moved and enlarged as one. */
static void same_geometry(const char *what, xmlNode *slide, xmlNode *svg)
{
    Points seen = { 0 }, want = { 0 };
    Point a, b, c, d;
    walk(svg->children, take_path, &want);
    walk(slide->children, take_corners, &seen);
    cr_assert(seen.n > 0 && want.n > 0, "%s: nothing is drawn", what);
    box_of(&want, &a, &b);
    box_of(&seen, &c, &d);
    double scale = b.x > a.x ? (d.x - c.x) / (b.x - a.x) : (d.y - c.y) / (b.y - a.y);
    double within = 0.001 * scale + 0.002;             /* roundings of both */
    for (size_t i = 0; i < want.n; i++) want.v[i] = (Point){ c.x + (want.v[i].x - a.x) * scale, c.y + (want.v[i].y - a.y) * scale };
    cr_expect_eq(without_partner(&seen, &want, within), 0, "%s: %zu corners of the slide are not in the drawing", what, without_partner(&seen, &want, within));
    cr_expect_eq(without_partner(&want, &seen, within), 0, "%s: corners of the drawing are not on the slide", what);
    free(seen.v);
    free(want.v);
}

/* ---- steps ---- */
typedef struct { const char *what; size_t clicks, effects; xmlNode *slide; Texts ids, revealed; } Steps;

static bool holds(const Texts *t, const char *text)
{
    for (size_t i = 0; i < t->n; i++) if (strcmp(t->v[i], text) == 0) return true;
    return false;
}

static void take_ids(xmlNode *node, void *with)
{
    Steps *s = with;
    const char *id = attribute(node, "id");
    if (!*id) return;
    cr_expect(!holds(&s->ids, id), "%s: id %s stands twice", s->what, id);
    s->ids.v[s->ids.n++] = (char *)(uintptr_t)id;
}

typedef struct { const char *id; xmlNode *found; } Wanted;
static void find_id(xmlNode *node, void *with)
{
    Wanted *w = with;
    if (strcmp(attribute(node, "id"), w->id) == 0) w->found = node;
}

static void wipe_goes_with_light(const Steps *s, const xmlNode *filter)
{
    Wanted w = { attribute(filter, "targetElement"), NULL };
    Points p = { 0 };
    bool level = strcmp(attribute(filter, "subtype"), "leftToRight") == 0, back = strcmp(attribute(filter, "direction"), "reverse") == 0;
    walk(s->slide->children, find_id, &w);
    cr_assert(w.found != NULL, "%s: a wipe of nothing", s->what);
    const xmlNode *line = named(w.found, "g") ? w.found->children : w.found;
    while (line && line->type != XML_ELEMENT_NODE) line = line->next;
    corners_of(line, &p);
    cr_assert(p.n >= 2, "%s: a wipe of no line", s->what);
    for (size_t i = 1; i < p.n; i++) {
        double along = level ? p.v[i].x - p.v[i - 1].x : p.v[i].y - p.v[i - 1].y;
        cr_expect(back ? along < 0.01 : along > -0.01, "%s: a wipe against the light", s->what);
    }
    free(p.v);
}

static void take_effects(xmlNode *node, void *with)
{
    Steps *s = with;
    const char *target = attribute(node, "targetElement"), *type = attribute(node, "node-type");
    s->clicks += strcmp(type, "on-click") == 0;
    s->effects += strcmp(type, "on-click") == 0 || strcmp(type, "with-previous") == 0;
    if (*target) cr_expect(holds(&s->ids, target), "%s: an effect on %s, which is not there", s->what, target);
    if (named(node, "transitionFilter")) wipe_goes_with_light(s, node);
    if (named(node, "set") && strcmp(attribute(node, "to"), "visible") == 0 && !holds(&s->revealed, target)) s->revealed.v[s->revealed.n++] = (char *)(uintptr_t)target;
}

typedef struct { size_t steps, questions, cued; } Counted;
static void count_groups(xmlNode *node, void *with)
{
    Counted *c = with;
    const char *class = attribute(node, "class");
    c->steps += strcmp(class, "step") == 0;
    c->questions += strcmp(class, "question") == 0;
    c->cued += strcmp(class, "cued") == 0;
}

static void same_steps(Steps *s, xmlNode *svg)
{
    Counted c = { 0 };
    walk(svg->children, count_groups, &c);
    walk(s->slide->children, take_ids, s);
    walk(s->slide->children, take_effects, s);
    cr_expect(c.steps > 0);
    cr_expect_eq(s->clicks, c.steps - 1 + c.questions, "%s: %zu clicks for %zu steps and %zu questions", s->what, s->clicks, c.steps - 1, c.questions);
    for (size_t i = 0; i < s->ids.n; i++)          /* what changes but was given from the start is never revealed */
        if (!holds(&s->revealed, s->ids.v[i])) cr_expect(c.cued > 0, "%s: %s is never revealed", s->what, s->ids.v[i]);
}

/* ---- words ---- */
static void take_words(xmlNode *node, void *with)
{
    Texts *t = with;
    bool words = named(node, "frame") && strcmp(attribute(node, "style-name"), "words") == 0;
    if (words) t->v[t->n++] = (char *)xmlNodeGetContent(node);
}

static xmlDoc *read_xml(const char *bytes, size_t length)
{
    xmlDoc *doc = xmlReadMemory(bytes, (int)length, NULL, NULL, XML_PARSE_NONET | XML_PARSE_HUGE);
    cr_assert(doc != NULL, "not well-formed");
    return doc;
}

typedef struct { xmlNode *v[64]; size_t n; } Slides;
static void take_slide(xmlNode *node, void *with)
{
    Slides *s = with;
    if (named(node, "page")) s->v[s->n++] = node;
}

static void check_slide(const char *script, xmlNode *slide, xmlNode *svg)
{
    Steps *s = calloc(1, sizeof *s);
    Texts *words = calloc(1, sizeof *words);
    char what[160];
    snprintf(what, sizeof what, "%s, %s", script, attribute(slide, "name"));
    *s = (Steps){ .what = what, .slide = slide };
    same_steps(s, svg);
    same_geometry(what, slide, svg);
    walk(slide->children, take_words, words);
    for (size_t i = 0; i < words->n; i++) {
        cr_expect(*words->v[i], "%s: a frame without words", what);
        xmlFree(words->v[i]);
    }
    free(words);
    free(s);
}

/* The drawing of the next slide of the page of slides, from *at on. */
static xmlDoc *next_drawing(const char **at, const char *end)
{
    static const char OPEN[] = "<svg ", CLOSE[] = "</svg>";
    const char *from = *at, *to;
    while (from + sizeof OPEN < end && memcmp(from, OPEN, sizeof OPEN - 1) != 0) from++;
    for (to = from; to + sizeof CLOSE < end && memcmp(to, CLOSE, sizeof CLOSE - 1) != 0;) to++;
    to += sizeof CLOSE - 1;
    cr_assert(to < end, "fewer drawings than slides");
    *at = to;
    return read_xml(from, (size_t)(to - from));
}

Test(slides, say_and_show_what_the_figures_do)
{
    size_t n, figures = 0;
    char **script = test_list("../scripts-demo", ".sag", &n);
    for (size_t i = 0; i < n; i++) {
        char path[256];
        size_t length;
        SgResult r, page;
        snprintf(path, sizeof path, "../scripts-demo/%s", script[i]);
        char *text = test_read(path, &length);
        cr_assert_eq(test_run(SG_JOB_PRESENTATION, script[i], text, length, NULL, NULL, &r), SG_DONE, "%s", script[i]);
        cr_assert_eq(r.nproducts, 5);
        cr_expect_str_eq(r.product[0].part, "mimetype");
        cr_expect(r.product[0].length == 47 && memcmp(r.product[0].bytes, "application/vnd.oasis.opendocument.presentation", 47) == 0);
        Slides slides = { .n = 0 };
        xmlDoc *doc = NULL;
        for (uint32_t k = 1; k < r.nproducts; k++) {
            xmlDoc *part = read_xml(r.product[k].bytes, r.product[k].length);
            if (strcmp(r.product[k].part, "content.xml") == 0) doc = part;
            else xmlFreeDoc(part);
        }
        cr_assert(doc != NULL);
        walk(xmlDocGetRootElement(doc), take_slide, &slides);
        cr_assert_eq(test_run(SG_JOB_SLIDES, script[i], text, length, NULL, NULL, &page), SG_DONE);
        const char *at = page.product[0].bytes;
        for (size_t k = 0; k < slides.n; k++) {
            xmlDoc *drawing = next_drawing(&at, page.product[0].bytes + page.product[0].length);
            check_slide(script[i], slides.v[k], xmlDocGetRootElement(drawing));
            xmlFreeDoc(drawing);
        }
        sg_result_free(&page);
        figures += slides.n;
        xmlFreeDoc(doc);
        sg_result_free(&r);
        free(text);
        free(script[i]);
    }
    free(script);
    cr_expect(figures > 50, "only %zu figures", figures);
}
