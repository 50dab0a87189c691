/* Descriptions of cases that no demo shows, and what they must not say.
   in: scripts. out: sentences that are missing, or that tell too much.
   never: judges style; texts.mjs holds all demos to sentences and numbers. */
#include "sagitta.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The long description, what is given, or the short text; to be freed. */
static char *told(const char *script, char what)
{
    SgJob job = { .kind = SG_JOB_DRAW, .path = "d.sag", .script = script, .script_length = strlen(script), .still = true, .stop_at_step = what == 'g', .step = 0 };
    SgResult r;
    SgStatus status = sg_compile(&job, &r);
    cr_assert(status == SG_DONE && r.nproducts == 1, "%s\n%.*s", script, (int)r.messages_length, r.messages);
    const char *svg = r.product[0].bytes, *from = what == 'b' ? r.product[0].brief : strstr(svg, "<desc id"), *end;
    cr_assert_not_null(from);
    end = what == 'b' ? from + strlen(from) : strstr(from, "</desc>");
    cr_assert_not_null(end);
    char *text = calloc((size_t)(end - from) + 1, 1);
    cr_assert_not_null(text);
    memcpy(text, from, (size_t)(end - from));
    sg_result_free(&r);
    return text;
}

typedef struct { char what; const char *script, *says, *never_says; } Case;
#define LENS " lens L converging focal 3 cm aperture 6 cm at 9 cm\n"
#define LAMP " object lamp height 1 cm at 6 cm before L\n"
static const Case cases[] = {
    /* a name with a small letter takes its noun at the head of a sentence, one with a capital does not */
    { 'd', "figure a {\n mirror m concave focal 3 cm at 9 cm\n object O height 1 cm at 5 cm before m\n ray r from O.tip parallel\n}\n", " The mirror m reflects it through the focal point.", NULL },
    { 'd', "figure a {\n mirror m concave focal 3 cm at 9 cm\n object O height 1 cm at 5 cm before m\n}\n", " O stands 5 cm before m.", "ray diagram" },
    { 'd', "figure a {\n mirror m concave focal 3 cm at 9 cm named \"M_1\"\n}\n", "M\xE2\x82\x81 is a concave mirror", NULL },
    /* which way a mirror looks */
    { 'd', "figure a {\n mirror M plane length 4 cm at (5 cm, 1 cm) facing up\n}\n", "M turns its front upwards. M lies 1 cm above the axis.", NULL },
    { 'd', "figure a {\n mirror M plane length 4 cm at 5 cm turned -30 deg\n}\n", "M is turned by 30\xC2\xB0 clockwise from facing the light.", "counter" },
    /* light on its way to what it never reaches */
    { 'd', "figure a {\n" LENS " object o height 1 cm at 2 cm beyond L virtual\n ray r from o.tip parallel\n ray s from o.tip toward L.centre\n}\n",
      "Ray 1 comes parallel to the axis, aimed at the tip of o. ", "starts" },
    /* beyond the edge */
    { 'd', "figure a {\n lens L converging focal 3 cm aperture 2 cm at 9 cm edge produced\n object lamp height 2 cm at 7 cm before L\n ray r from lamp.tip parallel\n}\n",
      "It meets L beyond its edge, where it is drawn on in dashes. L bends it", NULL },
    /* in the order light meets them, with the number of what is held back */
    { 'd', "figure a {\n" LENS LAMP " stop D opening 2 cm at 3 cm before L\n screen S at 6 cm beyond L\n step { fan f from lamp.foot filling L count 7\n }\n}\n",
      "D holds back 2 of them. The outermost meet L 2 cm above and 2 cm below the axis.", NULL },
    { 'd', "figure a {\n" LENS LAMP " stop D opening 2 cm at 3 cm before L\n screen S at 6 cm beyond L\n step { fan f from lamp.foot filling L count 7\n }\n}\n",
      "L brings them together at a distance of 6 cm. They end at S.", NULL },
    /* what is given tells of no answer, neither where nor against what */
    { 'g', "figure a {\n lens L converging focal 3 cm aperture 6 cm at 9 cm answer\n" LAMP " image p of lamp by L given\n step { ray r from lamp.tip parallel\n }\n}\n",
      "The image p of lamp is drawn pointing down, 1 cm high. The image p stands 12 cm beyond lamp.", " L" },
    { 'g', "figure a {\n" LENS " find u from 4 cm to 20 cm where p.magnification = -1\n object lamp height 1 cm at u before L\n step { image p of lamp by L\n }\n}\n",
      "The object lamp is an arrow, 1\xE2\x80\x89" "cm tall.", "stands" },
    { 'g', "figure a {\n" LENS LAMP " step { ray r from lamp.tip parallel\n }\n}\n", "A diagram; what is given shows no rays.", "ray diagram" },
    /* in short */
    { 'b', "figure a {\n lens A converging focal 2 cm at 5 cm\n lens B converging focal 2 cm at 15 cm\n object o height 1 cm at 3 cm before A\n ray r from o.tip parallel\n}\n",
      "Ray diagram: 2 converging lenses; o 3\xE2\x80\x89" "cm before A.", NULL },
    { 'b', "figure a {\n" LENS " beam b count 3 filling L\n}\n", "Ray diagram: converging lens; parallel rays.", NULL },
};

/* Thin spaces as plain ones, so that what is wanted can be read. */
static void plain_spaces(char *s)
{
    char *to = s;
    for (; *s; s++) {
        if (!strncmp(s, "\xE2\x80\x89", 3)) { *to++ = ' '; s += 2; }
        else *to++ = *s;
    }
    *to = 0;
}

Test(describe, cases)
{
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char *text = told(cases[i].script, cases[i].what), want[400];
        snprintf(want, sizeof want, "%s", cases[i].says);
        plain_spaces(text);
        plain_spaces(want);
        cr_expect_not_null(strstr(text, want), "%s\ntold: %s\nwanted: %s", cases[i].script, text, want);
        if (cases[i].never_says) cr_expect_null(strstr(text, cases[i].never_says), "%s\ntold: %s\nnever: %s", cases[i].script, text, cases[i].never_says);
        free(text);
    }
}
