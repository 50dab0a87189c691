/* output/notes: the speaker's notes as one HTML page.
   in     pages, and the numbers of each figure as rows of words.
   out    a section a figure, a block a step that no page break cuts; looks for black ink on A4.
   never  draws: the small pictures are svg.c's, each under an id of its own. */
#include "output/notes.h"

#include "base/num.h"
#include "output/output.h"
#include "output/xml.h"

static const char HEAD[] =
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
    "<style>\n"
    "@page { size: A4; margin: 12mm 15mm }\n"
    "html { color-scheme: light }\n"
    "body { font: 11pt/1.4 \"Liberation Sans\", Arial, Helvetica, sans-serif; color: #000; background: #fff; max-width: 180mm; margin: 10mm auto; padding: 0 5mm }\n"
    "h1 { font-size: 11pt; font-weight: normal; margin: 0 0 4mm }\n"
    "h2 { font-size: 15pt; margin: 0 0 3mm; break-after: avoid }\n"
    "h3 { font-size: 11pt; margin: 0 0 1mm }\n"
    "p { margin: 0 0 2mm }\n"
    ".stage { display: grid; grid-template-columns: 92mm 1fr; gap: 6mm; border-top: 0.2mm solid #000; padding: 3mm 0; break-inside: avoid }\n"
    ".stage svg { display: block; width: 100%; height: auto }\n"
    ".ask { font-style: italic }\n"
    ".say { border-left: 0.8mm solid #000; padding-left: 2.5mm }\n"
    "table { border-collapse: collapse; font-size: 9.5pt; margin-top: 2mm }\n"
    "caption { text-align: left; font-weight: bold }\n"
    "th, td { text-align: left; vertical-align: top; padding: 0.5mm 3mm 0.5mm 0 }\n"
    "th { font-weight: normal; white-space: nowrap }\n"
    "section + section { break-before: page; margin-top: 12mm }\n"
    "@media (max-width: 170mm) { .stage { grid-template-columns: 1fr } }\n"
    "@media print { body { max-width: none; margin: 0; padding: 0 } section + section { margin-top: 0 } }\n"
    "</style>\n";

static void put_filled_element(SgBuf *b, const char *opening, const SgPage *page, SgTextId id, const char *hole, SgStr value, const char *closing)
{
    SgStr text = sg_filled(b->arena, page->wording, id, &(SgHole){ hole, value }, 1);
    sg_puts(b, opening);
    sg_put_xml(b, text);
    sg_puts(b, closing);
}

static void put_element(SgBuf *b, const char *opening, SgStr text, const char *closing)
{
    sg_puts(b, opening);
    sg_put_xml(b, text);
    sg_puts(b, closing);
}

/* The figure as it stands after step k. Its id is the page's only one of that name, since ids name the figure and the step. */
static void put_picture(const SgPage *page, uint32_t k, SgBuf *out)
{
    SgPage copy = *page;
    sg_puts(out, "<div style=\"width:");
    sg_put_mm3(out, page->w_mm * SG_NOTES_SCALE);
    sg_puts(out, "mm\">\n");
    copy.id = sg_format(out->arena, "%.*s-at-%u", (int)page->id.n, page->id.s, (unsigned)k);
    sg_output_svg(&copy, (SgSvgOptions){ .still = true, .step = (int)k }, out);
    sg_puts(out, "</div>\n");
}

static void put_numbers(const SgNotesFigure *f, SgBuf *out)
{
    if (f->nnumbers == 0) return;
    put_element(out, "<table>\n<caption>", f->page->wording->text[SG_TEXT_notes_numbers], "</caption>\n");
    for (uint32_t i = 0; i < f->nnumbers; i++) {
        put_element(out, "<tr><th scope=\"row\">", f->number[i].name, "</th>");
        put_element(out, "<td>", f->number[i].values, "</td></tr>\n");
    }
    sg_puts(out, "</table>\n");
}

static void put_stage(const SgNotesFigure *f, uint32_t k, SgBuf *out)
{
    const SgPage *page = f->page;
    const SgPageStep *step = k > 0 ? &page->step[k - 1] : NULL;
    sg_puts(out, "<article class=\"stage\">\n");
    put_picture(page, k, out);
    sg_puts(out, "<div>\n");
    if (step == NULL) {
        put_element(out, "<h3>", page->wording->text[SG_TEXT_notes_given], "</h3>\n");
        put_numbers(f, out);
    } else {
        put_filled_element(out, "<h3>", page, SG_TEXT_notes_step, "step", sg_format(out->arena, "%u", (unsigned)k), "</h3>\n");
        if (step->ask.n) put_filled_element(out, "<p class=\"ask\">", page, SG_TEXT_notes_ask, "question", step->ask, "</p>\n");
        if (step->plain.n) put_element(out, "<p>", step->plain, "</p>\n");
        if (step->say.n) put_element(out, "<p class=\"say\">", step->say, "</p>\n");
    }
    sg_puts(out, "</div>\n</article>\n");
}

static SgStr title_of(const SgPage *page) { return page->title.n ? page->title : page->id; }

void sg_output_notes(const SgNotesFigure *figure, uint32_t nfigures, SgBuf *out)
{
    const SgPage *first = nfigures > 0 ? figure[0].page : NULL;
    const SgWording *wording = first ? first->wording : &sg_wording_english;
    SgStr lang = wording->text[SG_TEXT_language];
    put_element(out, "<!DOCTYPE html>\n<html lang=\"", lang, "\">\n<head>\n<meta charset=\"utf-8\">\n<title>");
    if (first) put_filled_element(out, "", first, nfigures > 1 ? SG_TEXT_notes_title_more : SG_TEXT_notes_title_of, "figure", title_of(first), "</title>\n");
    else put_element(out, "", wording->text[SG_TEXT_notes_title], "</title>\n");
    sg_puts(out, HEAD);
    put_element(out, "</head>\n<body>\n<main>\n<h1>", wording->text[SG_TEXT_notes_title], "</h1>\n");
    for (uint32_t i = 0; i < nfigures; i++) {
        const SgPage *page = figure[i].page;
        SgStr own = page->wording->text[SG_TEXT_language];
        if (sg_str_same(own, lang)) sg_puts(out, "<section>\n");
        else put_element(out, "<section lang=\"", own, "\">\n");
        put_element(out, "<h2>", title_of(page), "</h2>\n");
        for (uint32_t k = 0; k <= page->nsteps && out->n <= SG_NOTES_LIMIT; k++) put_stage(&figure[i], k, out);
        sg_puts(out, "</section>\n");
    }
    sg_puts(out, "</main>\n</body>\n</html>\n");
}
