/* Scripts as a teacher would write them. See teacher.h. */
#include "teacher.h"
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

typedef struct { char *out; size_t room; uint64_t state; } Pen;

static void put(Pen *p, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void put(Pen *p, const char *format, ...)
{
    size_t n = strlen(p->out);
    va_list list;
    va_start(list, format);
    vsnprintf(p->out + n, p->room - n, format, list);
    va_end(list);
}

static unsigned below(Pen *p, unsigned n)
{
    p->state = p->state * 6364136223846793005u + 1442695040888963407u;
    return (unsigned)(p->state >> 33) % n;
}
static const char *const THINGS[] = { "lamp", "candle", "crab", "shell", "key", "visitor", "brush", "limpet" };
static const char *const IMAGES[] = { "picture", "image", "likeness", "spot", "seen" };
static const char *const NAMES[] = { "M", "L", "mirror of the stair", "lens", "gallery" };

enum { CONCAVE, CONVEX, PLANE, CONVERGING, DIVERGING, SORTS };

/* Rays of the construction, two or three of those that exist: none through a point its start stands at. */
static void rays(Pen *p, int sort, unsigned u, unsigned f, const char *thing)
{
    unsigned most = 2 + below(p, 2), n = 0;
    const char *aim[4] = { "parallel", NULL, NULL, NULL };
    bool lens = sort >= CONVERGING;
    aim[1] = lens ? "toward E.centre" : sort == PLANE ? "toward E.vertex" : u == 2 * f ? NULL : "through E.centre";
    aim[2] = sort == PLANE || u == f ? NULL : lens ? "through E.front_focus" : "through E.focus";
    aim[3] = lens ? NULL : "toward E.vertex";
    unsigned first = below(p, 2) ? 0 : 1;
    for (unsigned i = 0; i < 4 && n < most; i++) {
        const char *a = aim[(first + i) % 4];
        if (!a) continue;
        n++;
        put(p, "    step \"Ray %u.\" {\n        ray r%u from %s.tip %s\n", n, n, thing, a);
        if (!lens && strstr(a, "vertex") && below(p, 2)) put(p, "        angle %sfrom axis to r%u.in\n        angle %sfrom axis to r%u.out\n", sort == PLANE ? "\"*i*\" " : "", n, sort == PLANE ? "\"*r*\" " : "", n);
        put(p, "    }\n");
    }
}

static void extras(Pen *p, int sort, unsigned u, const char *thing)
{
    bool lens = sort >= CONVERGING;
    const char *middle = lens ? "E.centre" : "E.vertex";
    unsigned h = 4 + below(p, 12);
    if (below(p, 2)) put(p, "    dimension from %s.foot to %s\n", thing, middle);
    if (sort != PLANE && below(p, 2)) put(p, "    dimension from %s to %s\n", middle, lens ? "E.back_focus" : "E.focus");
    if (below(p, 3) == 0) put(p, "    dimension from %s.foot to %s.tip\n", thing, thing);
    if (below(p, 3) == 0) put(p, "    point P at (%u mm, %u mm)\n", 160 - u / 2, 16 + h);
    if (below(p, 3) == 0) put(p, "    label \"%s\" at (%u mm, -%u mm)\n", below(p, 2) ? "wall" : "harbour side", 160 - u, 16 + h);
}

void teacher_script(char *out, size_t room, uint64_t seed)
{
    static const char *const WORDS[SORTS] = { "mirror E concave", "mirror E convex", "mirror E plane", "lens E converging", "lens E diverging" };
    static const unsigned TENTHS[] = { 5, 6, 10, 13, 15, 18, 20, 22, 25, 30 };
    Pen pen = { out, room, seed * 2654435761u + 12345 }, *p = &pen;
    out[0] = 0;
    for (int i = 0; i < 4; i++) below(p, 2);
    int sort = (int)below(p, SORTS);
    unsigned f = 20 + 5 * below(p, 5), u = f * TENTHS[below(p, sizeof TENTHS / sizeof *TENTHS)] / 10, h = 7 + below(p, 10);
    const char *thing = THINGS[below(p, 8)], *image = IMAGES[below(p, 5)];
    if (u < 12) u = 12;
    put(p, "figure made \"Made up\" {\n    %s", WORDS[sort]);
    if (sort == PLANE) put(p, " length %u mm", 50 + 10 * below(p, 3));
    else put(p, " focal %u mm aperture %u mm", f, 50 + 10 * below(p, 3));
    put(p, " at 160 mm edge produced");
    if (below(p, 3) == 0) put(p, " named \"%s\"", NAMES[below(p, 5)]);
    if (sort != PLANE && sort < CONVERGING && below(p, 3) == 0) put(p, " vertex_named \"P\"");
    put(p, "\n    object %s height %u mm at %u mm before E\n", thing, h, u);
    rays(p, sort, u, f, thing);
    put(p, "    step \"The image.\" {\n        image %s of %s by E\n", image, thing);
    if (u != f && below(p, 3) == 0) put(p, "        dimension from %s to %s.foot\n", sort >= CONVERGING ? "E.centre" : "E.vertex", image);
    put(p, "    }\n");
    extras(p, sort, u, thing);
    put(p, "}\n");
}
