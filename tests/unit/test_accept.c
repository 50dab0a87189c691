/* What a key accepts, against pencils of another make. Here a line is y = slope x + height, a ruler is off upwards by its error over
   the cosine of the slope, the arc is met by going to and fro, and every error is anywhere within its limits at once; the intervals
   are those of the answers. Held: 90 to 99.5 % of honest drawings are accepted, and no named wrong construction is. */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "support/files.h"

#define PI 3.14159265358979323846
typedef struct { double slope, height; } Line;
typedef struct { double f, u, h; bool lens, arc, made; } Setup;        /* mm; made: C is marked off */

static unsigned long long state = 88172645463325252ull;
static double error_of(double limit)                           /* uniform, from a generator with a fixed start */
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return limit * (2 * ((double)(state >> 11) / 9007199254740992.0) - 1);
}

static Line rule(double x0, double y0, double x1, double y1)
{
    double k = hypot(1, (y1 - y0) / (x1 - x0));
    y0 += error_of(0.25) * k;
    y1 += error_of(0.25) * k;
    double slope = (y1 - y0) / (x1 - x0);
    return (Line){ slope, y0 - slope * x0 };
}

static void strike(const Setup *s, Line l, double *x, double *y)
{
    double R = 2 * s->f;
    *x = 0;
    for (int i = 0; i < 60; i++) {
        *y = l.slope * *x + l.height;
        *x = s->arc ? *y * *y / (R * (1 + sqrt(1 - *y * *y / (R * R)))) : 0;
    }
}

/* Lenses are unfolded into mirrors: light goes on where it would come back, so only the sign of the distance differs. */
static Line draw(const Setup *s, char ray)
{
    double x, y, v = s->u * s->f / (s->u - s->f), end = v > 28 ? v + 12 : 40;
    switch (ray) {
    case 'p':
        strike(s, rule(s->u, s->h, 0, s->h), &x, &y);
        return rule(x, y, s->f, 0);
    case 'f':
        strike(s, rule(s->u, s->h, s->f, 0), &x, &y);
        return rule(x, y, end, y);
    case 'c':
        if (s->lens) {
            Line l = rule(s->u, s->h, 0, 0);
            return (Line){ -l.slope, l.height };               /* unfolded */
        }
        return rule(s->u, s->h, 2 * s->f + (s->made ? error_of(1) : 0), 0);
    default: {
        Line in = rule(s->u, s->h, 0, 0);
        double deg = atan(in.slope) * 180 / PI + error_of(1);
        deg = -deg + error_of(1);
        return rule(0, 0, 50, 50 * tan(deg * PI / 180));
    }
    }
}

static bool construct(const Setup *s, const char *rays, double *v, double *h)
{
    Line l[4];
    int n = 0, crossings = 0;
    double x = 0, y = 0;
    for (; rays[n]; n++) l[n] = draw(s, rays[n]);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < i; k++) {
            if (fabs(atan(l[i].slope) - atan(l[k].slope)) < 3 * PI / 180) continue;
            double at = (l[k].height - l[i].height) / (l[i].slope - l[k].slope);
            x += at;
            y += l[i].slope * at + l[i].height;
            crossings++;
        }
    *v = x / crossings + error_of(1);
    *h = y / crossings + error_of(1);
    return crossings > 0;
}

typedef struct { double v0, v1, h0, h1; } Accepted;

static bool interval(const char *csv, const char *asked, double *from, double *to)
{
    char head[60];
    const char *end, *at;
    double value;
    snprintf(head, sizeof head, "\nA,1,q,,%s,", asked);
    if (!(at = strstr(csv, head)) || !test_number(at + strlen(head), &value, &end)) return false;
    if (strncmp(end, ",mm,", 4) || !test_number(end + 4, from, &end) || *end != ',') return false;
    return test_number(end + 1, to, &end);
}

static Accepted accepted(const Setup *s, const char *rays)
{
    static const struct { char ray; const char *mirror, *lens; } aim[] = { { 'p', "parallel", "parallel" }, { 'f', "through M.focus", "through M.front_focus" }, { 'c', "through M.centre", "toward M.centre" }, { 'v', "toward M.vertex", "toward M.centre" } };
    char body[800] = "", script[1600];
    Accepted a = { NAN, NAN, NAN, NAN };
    SgResult r;
    for (const char *x = rays; *x; x++)
        for (int k = 0; k < 4; k++)
            if (aim[k].ray == *x) snprintf(body + strlen(body), sizeof body - strlen(body), " step \"%c\" { ray %c from o.tip %s }\n", *x, *x, s->lens ? aim[k].lens : aim[k].mirror);
    snprintf(script, sizeof script, "%sfigure m {\n %s M %s focal %g mm aperture 110 mm at 400 mm\n object o height %g mm at %g mm before M\n%s step \"i\" { image i of o by M }\n}\nsheet s \"x\" { problem q = m \"?\" asks i.distance, i.height }\n",
             s->arc ? "model by_rule\n" : "", s->lens ? "lens" : "mirror", s->lens ? "converging" : "concave", s->f, s->h, s->u, body);
    SgJob job = { .kind = SG_JOB_ANSWERS, .path = "accept.sag", .script = script, .script_length = strlen(script), .csv = true };
    cr_assert(sg_compile(&job, &r) == SG_DONE, "%s", r.messages);
    bool told = interval(r.product[0].bytes, "i.distance", &a.v0, &a.v1) && interval(r.product[0].bytes, "i.height", &a.h0, &a.h1);
    cr_expect(told, "%s", r.product[0].bytes);
    sg_result_free(&r);
    return a;
}

static bool holds(const Accepted *a, double v, double h) { return v >= a->v0 && v <= a->v1 && h >= a->h0 && h <= a->h1; }

static bool refused(const Accepted *a, double v, double h) { return !holds(a, v, h); }

static const Setup setups[] = {
    { 40, 120, 10, false, false, true }, { 40, 60, 10, false, false, true }, { 40, 20, 10, false, false, true },
    { 40, 120, 10, false, true, true }, { 40, 90, 8, false, true, true }, { 30, 90, 12, true, false, false }, { 50, 30, 10, true, false, false },
};
enum { SETUPS = sizeof setups / sizeof *setups, PENCILS = 4000 };

Test(accept, honest_pencils_are_accepted)
{
    static const char *const sets[] = { "pf", "pc", "fc", "pv", "pfc" };
    double least = 100, most = 0;
    for (int i = 0; i < SETUPS; i++)
        for (int k = 0; k < 5; k++) {
            const Setup *s = &setups[i];
            if (s->lens && sets[k][1] == 'v') continue;        /* the vertex of a thin lens is its centre */
            Accepted a = accepted(s, sets[k]);
            unsigned v_in = 0, h_in = 0, n = 0;
            for (int p = 0; p < PENCILS; p++) {
                double v, h;
                if (!construct(s, sets[k], &v, &h)) continue;
                v_in += v >= a.v0 && v <= a.v1;
                h_in += h >= a.h0 && h <= a.h1;
                n++;
            }
            double share[2] = { 100.0 * v_in / n, 100.0 * h_in / n };
            for (int q = 0; q < 2; q++) {
                cr_expect(share[q] >= 90 && share[q] <= 99.5, "%s f %g u %g h %g %s rays %s: %.1f %% of %s (%g to %g)", s->lens ? "lens" : "mirror", s->f, s->u, s->h, s->arc ? "arc" : "line", sets[k], share[q],
                          q ? "heights" : "distances", q ? a.h0 : a.v0, q ? a.h1 : a.v1);
                if (share[q] < least) least = share[q];
                if (share[q] > most) most = share[q];
            }
        }
    printf("accepted: %.1f to %.1f %% of honest drawings\n", least, most);
}

/* Where exact rays cross that were drawn by a wrong rule. Lines as they leave, unfolded. */
static void cross(Line a, Line b, double *v, double *h)
{
    *v = (b.height - a.height) / (a.slope - b.slope);
    *h = a.slope * *v + a.height;
}

Test(accept, wrong_constructions_are_not)
{
    for (int i = 0; i < SETUPS; i++) {
        const Setup *s = &setups[i];
        if (s->arc) continue;
        double f = s->f, u = s->u, h = s->h, v = u * f / (u - f), tall = -h * v / u, x, y;
        Accepted a = accepted(s, "pf");
        Line p = { -h / f, h }, by_f = { 0, h * f / (f - u) }, middle = { -h / u, 0 };
        cr_expect(holds(&a, v, tall), "the right image is refused");
        cr_expect(refused(&a, f, tall) && refused(&a, f, 0), "an image at F, as of parallel light");
        cr_expect(refused(&a, v, -tall), "the image drawn the other way up");
        cr_expect(refused(&a, -v, tall), "the image drawn on the other side");
        cross(p, (Line){ h / u, 0 }, &x, &y);
        cr_expect(refused(&a, x, y), "the vertex ray on the wrong side of the normal: %g %g", x, y);
        cross((Line){ -h / (2 * f), h }, middle, &x, &y);
        cr_expect(refused(&a, x, y), "the parallel ray out through C: %g %g", x, y);
        cross((Line){ h / f, h }, middle, &x, &y);
        cr_expect(refused(&a, x, y), "the parallel ray out away from F: %g %g", x, y);
        cross(p, (Line){ -by_f.height / f, by_f.height }, &x, &y);
        cr_expect(refused(&a, x, y), "the ray by F out through F again: %g %g", x, y);
    }
}

/* What a student has to draw must have its place on the paper: one thing outside, one message. */
Test(accept, what_is_to_be_drawn_is_on_the_paper)
{
    static const struct { const char *frame, *answer, *says; } off[] = {
        { "150 mm by 36 mm", "ray b from o.tip through M.focus", "a place that ray 1 strikes stands outside problem q's frame of 150 mm by 36 mm" },
        { "150 mm by 70 mm", "point P at (60 mm, -40 mm)", "P stands outside" },
        { "150 mm by 70 mm", "line from o.tip to (60 mm, 44 mm)", "the end of a line stands outside" },
        { "150 mm by 70 mm", "image i of o by M", "i stands outside" },
        { "150 mm by 70 mm", "ray b from o.tip through M.focus", NULL },
    };
    for (size_t k = 0; k < sizeof off / sizeof *off; k++) {
        char script[700];
        snprintf(script, sizeof script, "figure m {\n frame %s\n mirror M concave focal 40 mm aperture 60 mm at 120 mm unmarked\n object o height 12 mm at 60 mm before M\n step \"a\" { %s }\n}\nsheet s \"x\" { problem q = m \"?\" }\n",
                 off[k].frame, off[k].answer);
        SgJob job = { .kind = SG_JOB_DRAW, .form = SG_FORM_SVG, .sheet = "s", .path = "paper.sag", .script = script, .script_length = strlen(script) };
        SgResult r;
        SgStatus status = sg_compile(&job, &r);
        cr_expect(off[k].says ? status == SG_SCRIPT_WRONG && r.errors == 1 && strstr(r.messages, off[k].says) : status == SG_DONE, "%s: %s", off[k].answer, r.messages);
        sg_result_free(&r);
    }
}

/* A number asked for without a figure is only calculated: sin 30 deg / 1.5 and its length of glass, by hand. */
Test(accept, numbers_without_a_figure)
{
    static const char script[] = "sheet s \"x\" { problem q \"Snell.\" asks asin(sin(30 deg) / 1.5), 3 cm / 2 figures 3 }\n";
    static const struct { SgJobKind kind; bool csv, json; const char *says; } ways[] = {
        { SG_JOB_ANSWERS, false, false, "19.4712206344907 deg  calculated 19.421 to 19.521" },
        { SG_JOB_ANSWERS, true, false, "1.5,cm,,,1.495,1.505" }, { SG_JOB_ANSWERS, false, true, "\"unit\": \"deg\", \"calculated\": [19.421, 19.521]" },
        { SG_JOB_DRAW, false, false, "Snell" },
    };
    for (size_t k = 0; k < sizeof ways / sizeof *ways; k++) {
        SgJob job = { .kind = ways[k].kind, .form = SG_FORM_SVG, .sheet = "s", .part = SG_SHEET_GIVEN, .path = "bare.sag", .script = script, .script_length = strlen(script), .csv = ways[k].csv, .json = ways[k].json };
        SgResult r;
        cr_assert(sg_compile(&job, &r) == SG_DONE && r.nproducts > 0, "%s", r.messages);
        cr_expect(strstr(r.product[0].bytes, ways[k].says) != NULL, "%s", r.product[0].bytes);
        sg_result_free(&r);
    }
}
