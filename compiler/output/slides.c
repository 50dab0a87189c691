/* output/slides: one HTML page of slides.
   in     pages laid out for slides.
   out    a section a figure: heading, drawing, captions as a list; below them the controls, then the script. Everything is
          there and finished without the script, which hides what is not yet to be seen.
   never  draws: drawings are svg.c's, ids begin with their figure's; the page's own ids have no hyphen, so none meets. */
#include "output/slides.h"

#include "base/num.h"
#include "output/output.h"
#include "output/player.h"
#include "output/xml.h"

typedef enum {
#define WORD(key, text) SLIDE_##key,
#define SAID(key, text) SLIDE_##key,
#include "output/slide_words.def"
#undef WORD
#undef SAID
    SLIDE_WORDS
} Word;
typedef struct { const char *key, *text; bool said; } WordRow;
static const WordRow words[] = {
#define WORD(key, text) { #key, text, false },
#define SAID(key, text) { #key, text, true },
#include "output/slide_words.def"
#undef WORD
#undef SAID
};
_Static_assert(sizeof words / sizeof *words == SLIDE_WORDS, "a row a word");

/* Nothing is fetched and nothing sent, whatever a figure's texts may hold. */
static const char POLICY[] =
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n";

static void put_between(SgBuf *b, const char *opening, SgStr text, const char *closing)
{
    sg_puts(b, opening);
    sg_put_xml(b, text);
    sg_puts(b, closing);
}

static void put_worded(SgBuf *b, const char *opening, Word word, const char *closing)
{
    put_between(b, opening, sg_str(words[word].text), closing);
}

static SgStr title_of(const SgPage *page) { return page->title.n ? page->title : page->id; }

/* ---- colours ---- */

static void put_turn(SgBuf *b, const char *where, uint32_t from_rgb, uint32_t to_rgb)
{
    static const char *const paints[] = { "fill", "stroke" };
    for (int i = 0; i < 2; i++)
        sg_putf(b, "%s [%s=\"#%06x\"]{%s:#%06x}\n", where, paints[i], (unsigned)from_rgb, paints[i], (unsigned)to_rgb);
}

/* Later rules win, so that the first pair of a colour is written last. On paper everything is light. */
static void put_turns(const SgSlides *s, SgBuf *b)
{
    SgColourPair pair[SG_COLOUR_PAIRS];
    bool light = false, dark = false;
    for (uint32_t k = 0; k < s->npages; k++) {
        light = light || s->ground[k] == SG_GROUND_LIGHT;
        dark = dark || s->ground[k] == SG_GROUND_DARK;
    }
    sg_slide_colours(pair);
    sg_puts(b, "@media screen{\n");
    for (int i = SG_COLOUR_PAIRS; light && i-- > 0;) put_turn(b, ".alldark .onlight", pair[i].light_rgb, pair[i].dark_rgb);
    for (int i = SG_COLOUR_PAIRS; dark && i-- > 0;) put_turn(b, ".alllight .ondark", pair[i].dark_rgb, pair[i].light_rgb);
    sg_puts(b, "}\n@media print{\n");
    for (int i = SG_COLOUR_PAIRS; dark && i-- > 0;) put_turn(b, ".ondark", pair[i].dark_rgb, pair[i].light_rgb);
    sg_puts(b, "}\n");
}

/* ---- the page, from its top ---- */

static void put_body(SgSlideRatio ratio, SgBuf *b)
{
    sg_puts(b, "<body");
    for (int i = 0; i < SLIDE_WORDS; i++) {
        if (!words[i].said) continue;
        sg_puts(b, " data-");
        for (const char *k = words[i].key; *k; k++) sg_put_char(b, *k == '_' ? '-' : *k);
        sg_put_xml_attribute(b, "=\"", sg_str(words[i].text));
    }
    sg_puts(b, ratio == SG_SLIDE_4_3 ? " style=\"--wide:4;--high:3;--heading:" : " style=\"--wide:16;--high:9;--heading:");
    sg_put_mm3(b, SG_SLIDE_HEADING_MM / SG_SLIDE_HIGH_MM);
    sg_puts(b, "\">\n");
}

static void put_head(const SgSlides *s, SgBuf *b)
{
    put_worded(b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>", SLIDE_page, "");
    if (s->npages > 0) put_between(b, ": ", title_of(s->page[0]), s->npages > 1 ? " \xE2\x80\xA6" : "");
    sg_puts(b, "</title>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    sg_puts(b, POLICY);
    sg_puts(b, "<style>\n");
    sg_put(b, (const char *)sg_slides_css, sg_slides_css_bytes);
    put_turns(s, b);
    sg_puts(b, "</style>\n</head>\n");
}

/* A step without a caption keeps its number. */
static void put_captions(const SgPage *page, uint32_t k, SgBuf *b)
{
    if (page->nsteps == 0) return;
    sg_putf(b, "<ol class=\"captions\" aria-labelledby=\"slide%utitle\">\n", (unsigned)k);
    for (uint32_t i = 0; i < page->nsteps; i++) {
        const SgPageStep *step = &page->step[i];
        sg_puts(b, "<li");
        if (step->say.n) sg_put_xml_attribute(b, " data-say=\"", step->say);
        sg_putf(b, ">");
        if (step->ask.n) {
            put_worded(b, "<em class=\"ask\">", SLIDE_ask, " ");
            put_between(b, "", step->ask, "</em> ");
        }
        put_between(b, "", step->plain, "</li>\n");
    }
    sg_puts(b, "</ol>\n");
}

static void put_slide(const SgPage *page, SgGround ground, uint32_t number, SgBuf *b)
{
    static const char *const classes[] = { [SG_GROUND_LIGHT] = " onlight", [SG_GROUND_DARK] = " ondark", [SG_GROUND_OWN] = "" };
    unsigned k = number;
    sg_putf(b, "<section class=\"slide%s\" id=\"slide%u\" style=\"--strip:", classes[ground], k);
    sg_put_mm3(b, page->strip_mm / page->w_mm);
    if (ground == SG_GROUND_OWN) sg_putf(b, ";--paper:#%06x;--ink:#%06x", (unsigned)page->paper_rgb, (unsigned)page->caption_rgb);
    sg_put_xml_attribute(b, "\" lang=\"", page->wording->text[SG_TEXT_language]);
    sg_putf(b, " aria-labelledby=\"slide%utitle\">\n<div class=\"stage\">\n<h2 id=\"slide%utitle\">", k, k);
    put_between(b, "", title_of(page), "</h2>\n");
    sg_output_svg(page, (SgSvgOptions){ .slide = true, .step = -1 }, b);
    sg_puts(b, "</div>\n");
    put_captions(page, number, b);
    sg_puts(b, "</section>\n");
}

static void put_button(SgBuf *b, const char *id, Word word)
{
    sg_putf(b, "<button type=\"button\" id=\"%s\">", id);
    put_worded(b, "", word, "</button>\n");
}

static void put_controls(SgBuf *b)
{
    put_worded(b, "<nav id=\"controls\" aria-label=\"", SLIDE_controls, "\">\n");
    put_button(b, "back", SLIDE_back);
    put_button(b, "next", SLIDE_next);
    sg_puts(b, "<p id=\"count\"></p>\n");
    put_button(b, "replay", SLIDE_replay);
    put_worded(b, "<label for=\"go\">", SLIDE_go, "</label>\n");
    put_worded(b, "<input id=\"go\" inputmode=\"decimal\" autocomplete=\"off\" size=\"5\" placeholder=\"1.2\" title=\"", SLIDE_go_hint, "\">\n");
    put_button(b, "overview", SLIDE_overview);
    put_button(b, "lectern", SLIDE_lectern);
    put_button(b, "play", SLIDE_play);
    put_button(b, "blank", SLIDE_blank);
    put_button(b, "dark", SLIDE_dark);
    put_button(b, "full", SLIDE_full);
    put_button(b, "keys", SLIDE_keys);
    sg_puts(b, "</nav>\n<p id=\"said\" role=\"status\" aria-live=\"polite\"></p>\n<div id=\"cover\"></div>\n");
}

static void put_lectern(SgBuf *b)
{
    put_worded(b, "<aside id=\"notes\" aria-label=\"", SLIDE_lectern, "\" hidden>\n");
    put_worded(b, "<h2>", SLIDE_now_heading, "</h2>\n<p id=\"nowcaption\"></p>\n");
    put_worded(b, "<h2>", SLIDE_say_heading, "</h2>\n<p id=\"tosay\"></p>\n");
    put_worded(b, "<h2>", SLIDE_next_heading, "</h2>\n<div id=\"follows\"></div>\n<p id=\"followscaption\"></p>\n<div class=\"row\">\n");
    put_button(b, "clock", SLIDE_clock_start);
    put_worded(b, "<p id=\"time\" role=\"timer\" aria-live=\"off\" aria-label=\"", SLIDE_clock, "\"></p>\n");
    put_button(b, "second", SLIDE_second_window);
    sg_puts(b, "</div>\n<p id=\"secondsaid\" role=\"status\"></p>\n</aside>\n");
}

static void put_key(SgBuf *b, SgStr key, Word does)
{
    put_between(b, "<tr><th scope=\"row\">", key, "</th><td>");
    put_worded(b, "", does, "</td></tr>\n");
}

static void put_key_table(SgBuf *b)
{
    put_worded(b, "<table>\n<thead><tr><th scope=\"col\">", SLIDE_key, "</th>");
    put_worded(b, "<th scope=\"col\">", SLIDE_does, "</th></tr></thead>\n<tbody>\n");
}

static void put_keys(SgBuf *b)
{
    static const struct { Word key, does; } keys[] = {
        { SLIDE_key_next, SLIDE_does_next }, { SLIDE_key_back, SLIDE_does_back }, { SLIDE_key_slide, SLIDE_does_slide },
        { SLIDE_key_ends, SLIDE_does_ends }, { SLIDE_key_close, SLIDE_does_close },
    };
    put_worded(b, "<dialog id=\"help\" aria-label=\"", SLIDE_keys, "\">\n");
    put_worded(b, "<h2>", SLIDE_keys_heading, "</h2>\n");
    put_key_table(b);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) put_key(b, sg_str(words[keys[i].key].text), keys[i].does);
    put_worded(b, "</tbody>\n</table>\n<h2>", SLIDE_letters_heading, "</h2>\n");
    put_worded(b, "<p><label><input type=\"checkbox\" id=\"letters\" checked> ", SLIDE_letters, "</label></p>\n");
    put_key_table(b);
    put_key(b, sg_str(words[SLIDE_key_go].text), SLIDE_does_go);
    put_key(b, SG_LIT("R"), SLIDE_does_replay);
    put_key(b, sg_str(words[SLIDE_key_blank].text), SLIDE_does_blank);
    put_key(b, SG_LIT("A"), SLIDE_does_overview);
    put_key(b, SG_LIT("L"), SLIDE_does_lectern);
    put_key(b, SG_LIT("T"), SLIDE_does_timed);
    put_key(b, SG_LIT("D"), SLIDE_does_dark);
    put_key(b, SG_LIT("F"), SLIDE_does_full);
    put_key(b, sg_str(words[SLIDE_key_keys].text), SLIDE_does_keys);
    put_worded(b, "</tbody>\n</table>\n<p><label for=\"seconds\">", SLIDE_seconds, "</label> <input id=\"seconds\" type=\"number\" min=\"2\" max=\"600\" value=\"8\"></p>\n");
    put_worded(b, "<h2>", SLIDE_print_heading, "</h2>\n<p><label><input type=\"radio\" name=\"paper\" id=\"printwhole\" checked> ");
    put_worded(b, "", SLIDE_print_whole, "</label></p>\n<p><label><input type=\"radio\" name=\"paper\" id=\"printsteps\"> ");
    put_worded(b, "", SLIDE_print_steps, "</label></p>\n<div class=\"row\">\n");
    put_button(b, "print", SLIDE_print);
    put_button(b, "closehelp", SLIDE_close);
    sg_puts(b, "</div>\n</dialog>\n");
}

void sg_output_slides(const SgSlides *s, SgBuf *out)
{
    put_head(s, out);
    put_body(s->ratio, out);
    put_worded(out, "<main>\n<h1>", SLIDE_page, "</h1>\n");
    for (uint32_t k = 0; k < s->npages && out->n <= SG_SLIDES_LIMIT; k++) put_slide(s->page[k], s->ground[k], k + 1, out);
    sg_puts(out, "</main>\n");
    put_lectern(out);
    put_controls(out);
    put_worded(out, "<dialog id=\"glance\" aria-label=\"", SLIDE_overview, "\"></dialog>\n");
    put_keys(out);
    sg_puts(out, "<div id=\"paper\"></div>\n<script>\n");
    sg_put(out, (const char *)sg_slides_js, sg_slides_js_bytes);
    sg_puts(out, "</script>\n</body>\n</html>\n");
}
