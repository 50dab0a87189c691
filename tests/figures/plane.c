/* Plane geometry and the reading of a page, for the rules of figures. See rules.h. */
#include "rules.h"
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

double gap_of_points(SgPoint a, SgPoint b) { return hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm); }

double gap_of_point(SgPoint a, SgPoint b, SgPoint p)
{
    double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm, n = dx * dx + dy * dy;
    double t = n > 0 ? ((p.x_mm - a.x_mm) * dx + (p.y_mm - a.y_mm) * dy) / n : 0;
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return hypot(p.x_mm - a.x_mm - t * dx, p.y_mm - a.y_mm - t * dy);
}

static double turn(SgPoint a, SgPoint b, SgPoint c) { return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm); }

double gap_of_pieces(SgPoint a, SgPoint b, SgPoint p, SgPoint q)
{
    if (turn(a, b, p) * turn(a, b, q) < 0 && turn(p, q, a) * turn(p, q, b) < 0) return 0;
    return fmin(fmin(gap_of_point(a, b, p), gap_of_point(a, b, q)), fmin(gap_of_point(p, q, a), gap_of_point(p, q, b)));
}

double gap_of_box(const Box *w, SgPoint a, SgPoint b)
{
    SgPoint c[4] = { { w->x0, w->y0 }, { w->x1, w->y0 }, { w->x1, w->y1 }, { w->x0, w->y1 } };
    if (a.x_mm > w->x0 && a.x_mm < w->x1 && a.y_mm > w->y0 && a.y_mm < w->y1) return 0;
    double least = 1e9;
    for (int i = 0; i < 4; i++) least = fmin(least, gap_of_pieces(a, b, c[i], c[(i + 1) % 4]));
    return least;
}

double gap_of_boxes(const Box *a, const Box *b) { return fmax(fmax(a->x0 - b->x1, b->x0 - a->x1), fmax(a->y0 - b->y1, b->y0 - a->y1)); }

SgPoint figure_at(const Figure *f, SgPoint p) { return sg_pt(f->page->origin.x_mm + p.x_mm, f->page->origin.y_mm - p.y_mm); }

void figure_fault(Figure *f, const char *format, ...)
{
    f->faults++;
    if (f->quiet) return;
    va_list list;
    printf("%s: %s: ", f->who, f->rule);
    va_start(list, format);
    vprintf(format, list);
    va_end(list);
    putchar('\n');
}

static void add_ink(Figure *f, SgPoint a, SgPoint b, double half, uint32_t item)
{
    f->ink = realloc(f->ink, (f->nink + 1) * sizeof *f->ink);
    f->ink[f->nink++] = (Ink){ a, b, half, item };
}

void figure_open(Figure *f)
{
    f->ink = NULL;
    f->words = NULL;
    f->nink = f->nwords = 0;
    for (uint32_t i = 0; i < f->page->nitems; i++) {
        const SgItem *it = &f->page->item[i];
        if (it->shape == SG_ITEM_WORDS) {
            f->words = realloc(f->words, (f->nwords + 1) * sizeof *f->words);
            f->words[f->nwords++] = (Box){ it->xy[0].x_mm, it->xy[0].y_mm - it->words->ascent_mm, it->xy[0].x_mm + it->words->width_mm,
                                           it->xy[0].y_mm + it->words->descent_mm, i };
        } else if (it->shape == SG_ITEM_DISC) {
            add_ink(f, it->xy[0], it->xy[0], it->radius_mm, i);
        } else if (it->shape == SG_ITEM_ARC) {
            enum { PIECES = 90 };
            SgPoint before = { 0, 0 };
            for (uint32_t k = 0; k <= PIECES; k++) {   /* y runs down the page */
                double at = (it->from_deg + it->sweep_deg * k / PIECES) * 0.017453292519943295;
                SgPoint here = sg_pt(it->xy[0].x_mm + it->radius_mm * cos(at), it->xy[0].y_mm - it->radius_mm * sin(at));
                if (k) add_ink(f, before, here, it->line_mm / 2, i);
                before = here;
            }
        } else {
            for (uint32_t k = 0; k + 1 < it->nxy; k++) add_ink(f, it->xy[k], it->xy[k + 1], it->line_mm / 2, i);
            if (it->closed) add_ink(f, it->xy[it->nxy - 1], it->xy[0], it->line_mm / 2, i);
        }
    }
}

void figure_close(Figure *f)
{
    free(f->ink);
    free(f->words);
}

unsigned figure_rule(Figure *f, const Rule *rule)
{
    unsigned before = f->faults;
    f->rule = rule->id;
    rule->check(f);
    return f->faults - before;
}

bool figure_is_leader(const Figure *f, const Box *w, const SgItem *it)
{
    const SgItem *words = &f->page->item[w->item];
    if (it->shape != SG_ITEM_STROKE || it->nxy != 2 || it->role != words->role || it->at.start != words->at.start || it->ndash) return false;
    return gap_of_box(w, it->xy[0], it->xy[0]) < 0.6 || gap_of_box(w, it->xy[1], it->xy[1]) < 0.6;
}

/* A ruler or protractor lies where it is laid, its numbers where it has them. */
static bool of_tool(const SgItem *it) { return it->role == SG_ROLE_RULER || it->role == SG_ROLE_PROTRACTOR; }

/* A tool's own numbers stand among its own strokes; a grid lies under everything; glass is a tint. */
static bool may_lie_under(const SgItem *words, const SgItem *it)
{
    return it->role == SG_ROLE_GRID || (it->role == SG_ROLE_GLASS && it->shape == SG_ITEM_FILL) || (of_tool(words) && it->role == words->role);
}

void figure_crowding(const Figure *f, double clear_mm, unsigned *touch, unsigned *close)
{
    *touch = *close = 0;
    for (uint32_t i = 0; i < f->nwords; i++) {
        const Box *w = &f->words[i];
        const SgItem *words = &f->page->item[w->item];
        for (uint32_t k = 0; k < f->nink; k++) {
            const SgItem *it = &f->page->item[f->ink[k].item];
            if (may_lie_under(words, it) || figure_is_leader(f, w, it)) continue;
            double gap = gap_of_box(w, f->ink[k].a, f->ink[k].b) - f->ink[k].half;
            *touch += gap <= 0;
            *close += gap > 0 && gap < clear_mm && !of_tool(words);
            if (gap < clear_mm && getenv("SHOW")) printf("    \"%.*s\" %.3f mm from a thing of role %d shape %d at (%.1f, %.1f)\n", (int)words->words->plain.n, words->words->plain.s, gap, (int)it->role, (int)it->shape, f->ink[k].a.x_mm, f->ink[k].a.y_mm);
        }
        for (uint32_t k = i + 1; k < f->nwords; k++) {
            const SgItem *other = &f->page->item[f->words[k].item];
            if (other->role == words->role && other->at.start == words->at.start && (words->role == SG_ROLE_NOTE || words->role == SG_ROLE_RULER || words->role == SG_ROLE_PROTRACTOR)) continue;
            double gap = gap_of_boxes(w, &f->words[k]);
            *touch += gap <= 0;
            *close += gap > 0 && gap < clear_mm;
        }
    }
}
