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

/* As slides.css sets headings: 0.042 of the slide's height. */
#define HEADING_PT (0.042 * SG_SLIDE_HIGH_MM * 72 / 25.4)
#define HEADING_LEAST 0.65

/* What the page's script says, and fills the holes of: it finds each text as data of the body. */
static const struct { const char *opening; SgTextId id; } said[] = {
    { " data-count=\"", SG_TEXT_slide_count },
    { " data-count-one=\"", SG_TEXT_slide_count_one },
    { " data-count-ask=\"", SG_TEXT_slide_count_ask },
    { " data-said-slide=\"", SG_TEXT_slide_said_slide },
    { " data-said-step=\"", SG_TEXT_slide_said_step },
    { " data-said-ask=\"", SG_TEXT_slide_said_ask },
    { " data-said-given=\"", SG_TEXT_slide_said_given },
    { " data-said-blank=\"", SG_TEXT_slide_said_blank },
    { " data-said-seen=\"", SG_TEXT_slide_said_seen },
    { " data-said-timed=\"", SG_TEXT_slide_said_timed },
    { " data-said-timed-end=\"", SG_TEXT_slide_said_timed_end },
    { " data-given=\"", SG_TEXT_slide_given },
    { " data-step=\"", SG_TEXT_slide_step },
    { " data-question=\"", SG_TEXT_slide_question },
    { " data-end=\"", SG_TEXT_slide_end },
    { " data-say-none=\"", SG_TEXT_slide_say_none },
    { " data-clock-start=\"", SG_TEXT_slide_clock_start },
    { " data-clock-stop=\"", SG_TEXT_slide_clock_stop },
    { " data-second-window-open=\"", SG_TEXT_slide_second_window_open },
    { " data-second-window-blocked=\"", SG_TEXT_slide_second_window_blocked },
};

/* Nothing is fetched and nothing sent, whatever a figure's texts may hold. */
static const char POLICY[] =
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n";

static void put_between(SgBuf *b, const char *opening, SgStr text, const char *closing)
{
    sg_puts(b, opening);
    sg_put_xml(b, text);
    sg_puts(b, closing);
}

/* The page's own words stand in the language of its first figure. */
typedef struct { SgBuf *out; const SgWording *wording; } Page;

static void put_worded(const Page *p, const char *opening, SgTextId id, const char *closing)
{
    put_between(p->out, opening, p->wording->text[id], closing);
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

static void put_body(SgSlideRatio ratio, const Page *p)
{
    sg_puts(p->out, "<body");
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) sg_put_xml_attribute(p->out, said[i].opening, p->wording->text[said[i].id]);
    sg_puts(p->out, ratio == SG_SLIDE_4_3 ? " style=\"--wide:4;--high:3;--heading:" : " style=\"--wide:16;--high:9;--heading:");
    sg_put_mm3(p->out, SG_SLIDE_HEADING_MM / SG_SLIDE_HIGH_MM);
    sg_puts(p->out, "\">\n");
}

static void put_head(const SgSlides *s, const Page *p)
{
    SgBuf *b = p->out;
    put_worded(p, "<!DOCTYPE html>\n<html lang=\"", SG_TEXT_language, "\">\n<head>\n<meta charset=\"utf-8\">\n<title>");
    put_worded(p, "", SG_TEXT_slide_page, "");
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
            put_between(b, "<em class=\"ask\">", page->wording->text[SG_TEXT_slide_ask], " ");
            put_between(b, "", step->ask, "</em> ");
        }
        put_between(b, "", step->plain, "</li>\n");
    }
    sg_puts(b, "</ol>\n");
}

/* A long heading is set smaller, down to the least letters of a slide; then it takes two lines, for which there is room. */
static double heading_size(const SgPage *page, SgArena *a)
{
    double room_mm = page->w_mm - 2 * 6.0 - 1, wide_mm = sg_shape(a, title_of(page), SG_FACE_BOLD, HEADING_PT).width_mm;
    double size = wide_mm > room_mm ? room_mm / wide_mm : 1;
    return size > HEADING_LEAST ? size : HEADING_LEAST;
}

static void put_slide(const SgPage *page, SgGround ground, uint32_t number, SgBuf *b)
{
    static const char *const classes[] = { [SG_GROUND_LIGHT] = " onlight", [SG_GROUND_DARK] = " ondark", [SG_GROUND_OWN] = "" };
    unsigned k = number;
    sg_putf(b, "<section class=\"slide%s\" id=\"slide%u\" style=\"--strip:", classes[ground], k);
    sg_put_mm3(b, page->strip_mm / page->w_mm);
    sg_puts(b, ";--title:");
    sg_put_mm3(b, heading_size(page, b->arena));
    if (ground == SG_GROUND_OWN) sg_putf(b, ";--paper:#%06x;--ink:#%06x", (unsigned)page->paper_rgb, (unsigned)page->caption_rgb);
    sg_put_xml_attribute(b, "\" lang=\"", page->wording->text[SG_TEXT_language]);
    sg_putf(b, " aria-labelledby=\"slide%utitle\">\n<div class=\"stage\">\n<h2 id=\"slide%utitle\">", k, k);
    put_between(b, "", title_of(page), "</h2>\n");
    sg_output_svg(page, (SgSvgOptions){ .slide = true, .step = -1 }, b);
    sg_puts(b, "</div>\n");
    put_captions(page, number, b);
    sg_puts(b, "</section>\n");
}

static void put_button(const Page *p, const char *id, SgTextId word)
{
    sg_putf(p->out, "<button type=\"button\" id=\"%s\">", id);
    put_worded(p, "", word, "</button>\n");
}

static void put_controls(const Page *p)
{
    put_worded(p, "<nav id=\"controls\" aria-label=\"", SG_TEXT_slide_controls, "\">\n");
    put_button(p, "back", SG_TEXT_slide_back);
    put_button(p, "next", SG_TEXT_slide_next);
    sg_puts(p->out, "<p id=\"count\"></p>\n");
    put_button(p, "replay", SG_TEXT_slide_replay);
    put_worded(p, "<label for=\"go\">", SG_TEXT_slide_go, "</label>\n");
    put_worded(p, "<input id=\"go\" inputmode=\"decimal\" autocomplete=\"off\" size=\"5\" placeholder=\"1.2\" title=\"", SG_TEXT_slide_go_hint, "\">\n");
    put_button(p, "overview", SG_TEXT_slide_overview);
    put_button(p, "lectern", SG_TEXT_slide_lectern);
    put_button(p, "play", SG_TEXT_slide_play);
    put_button(p, "blank", SG_TEXT_slide_blank);
    put_button(p, "dark", SG_TEXT_slide_dark);
    put_button(p, "full", SG_TEXT_slide_full);
    put_button(p, "keys", SG_TEXT_slide_keys);
    sg_puts(p->out, "</nav>\n<p id=\"said\" role=\"status\" aria-live=\"polite\"></p>\n<div id=\"cover\"></div>\n");
}

static void put_lectern(const Page *p)
{
    put_worded(p, "<aside id=\"notes\" aria-label=\"", SG_TEXT_slide_lectern, "\" hidden>\n");
    put_worded(p, "<h2>", SG_TEXT_slide_now_heading, "</h2>\n<p id=\"nowcaption\"></p>\n");
    put_worded(p, "<h2>", SG_TEXT_slide_say_heading, "</h2>\n<p id=\"tosay\"></p>\n");
    put_worded(p, "<h2>", SG_TEXT_slide_next_heading, "</h2>\n<div id=\"follows\"></div>\n<p id=\"followscaption\"></p>\n<div class=\"row\">\n");
    put_button(p, "clock", SG_TEXT_slide_clock_start);
    put_worded(p, "<p id=\"time\" role=\"timer\" aria-live=\"off\" aria-label=\"", SG_TEXT_slide_clock, "\"></p>\n");
    put_button(p, "second", SG_TEXT_slide_second_window);
    sg_puts(p->out, "</div>\n<p id=\"secondsaid\" role=\"status\"></p>\n</aside>\n");
}

static void put_key(const Page *p, SgStr key, SgTextId does)
{
    put_between(p->out, "<tr><th scope=\"row\">", key, "</th><td>");
    put_worded(p, "", does, "</td></tr>\n");
}

static void put_key_table(const Page *p)
{
    put_worded(p, "<table>\n<thead><tr><th scope=\"col\">", SG_TEXT_slide_key, "</th>");
    put_worded(p, "<th scope=\"col\">", SG_TEXT_slide_does, "</th></tr></thead>\n<tbody>\n");
}

static void put_keys(const Page *p)
{
    static const struct { SgTextId key, does; } keys[] = {
        { SG_TEXT_slide_key_next, SG_TEXT_slide_does_next }, { SG_TEXT_slide_key_back, SG_TEXT_slide_does_back }, { SG_TEXT_slide_key_slide, SG_TEXT_slide_does_slide },
        { SG_TEXT_slide_key_ends, SG_TEXT_slide_does_ends }, { SG_TEXT_slide_key_close, SG_TEXT_slide_does_close },
    };
    put_worded(p, "<dialog id=\"help\" aria-label=\"", SG_TEXT_slide_keys, "\">\n");
    put_worded(p, "<h2>", SG_TEXT_slide_keys_heading, "</h2>\n");
    put_key_table(p);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) put_key(p, p->wording->text[keys[i].key], keys[i].does);
    put_worded(p, "</tbody>\n</table>\n<h2>", SG_TEXT_slide_letters_heading, "</h2>\n");
    put_worded(p, "<p><label><input type=\"checkbox\" id=\"letters\" checked> ", SG_TEXT_slide_letters, "</label></p>\n");
    put_key_table(p);
    put_key(p, p->wording->text[SG_TEXT_slide_key_go], SG_TEXT_slide_does_go);
    put_key(p, SG_LIT("R"), SG_TEXT_slide_does_replay);
    put_key(p, p->wording->text[SG_TEXT_slide_key_blank], SG_TEXT_slide_does_blank);
    put_key(p, SG_LIT("A"), SG_TEXT_slide_does_overview);
    put_key(p, SG_LIT("L"), SG_TEXT_slide_does_lectern);
    put_key(p, SG_LIT("T"), SG_TEXT_slide_does_timed);
    put_key(p, SG_LIT("D"), SG_TEXT_slide_does_dark);
    put_key(p, SG_LIT("F"), SG_TEXT_slide_does_full);
    put_key(p, p->wording->text[SG_TEXT_slide_key_keys], SG_TEXT_slide_does_keys);
    put_worded(p, "</tbody>\n</table>\n<p><label for=\"seconds\">", SG_TEXT_slide_seconds, "</label> <input id=\"seconds\" type=\"number\" min=\"2\" max=\"600\" value=\"8\"></p>\n");
    put_worded(p, "<h2>", SG_TEXT_slide_print_heading, "</h2>\n<p><label><input type=\"radio\" name=\"paper\" id=\"printwhole\" checked> ");
    put_worded(p, "", SG_TEXT_slide_print_whole, "</label></p>\n<p><label><input type=\"radio\" name=\"paper\" id=\"printsteps\"> ");
    put_worded(p, "", SG_TEXT_slide_print_steps, "</label></p>\n<div class=\"row\">\n");
    put_button(p, "print", SG_TEXT_slide_print);
    put_button(p, "closehelp", SG_TEXT_slide_close);
    sg_puts(p->out, "</div>\n</dialog>\n");
}

void sg_output_slides(const SgSlides *s, SgBuf *out)
{
    Page p = { out, s->npages > 0 ? s->page[0]->wording : &sg_wording_english };
    put_head(s, &p);
    put_body(s->ratio, &p);
    put_worded(&p, "<main>\n<h1>", SG_TEXT_slide_page, "</h1>\n");
    for (uint32_t k = 0; k < s->npages && out->n <= SG_SLIDES_LIMIT; k++) put_slide(s->page[k], s->ground[k], k + 1, out);
    sg_puts(out, "</main>\n");
    put_lectern(&p);
    put_controls(&p);
    put_worded(&p, "<dialog id=\"glance\" aria-label=\"", SG_TEXT_slide_overview, "\"></dialog>\n");
    put_keys(&p);
    sg_puts(out, "<div id=\"paper\"></div>\n<script>\n");
    sg_put(out, (const char *)sg_slides_js, sg_slides_js_bytes);
    sg_puts(out, "</script>\n</body>\n</html>\n");
}
