/* output/odp: the parts of an OpenDocument presentation.
   in     pages, one a slide.
   out    mimetype, manifest, description, common styles and the slides, in that order.
   never  draws an item or times a step itself: see odp_shape.c and odp_step.c. */
#include "output/odp.h"

#include <math.h>

#include "base/num.h"
#include "output/odp_build.h"
#include "output/xml.h"

/* Each side by itself: the one word for all four is not read everywhere. */
#define SG_NO_PADDING " fo:padding-top=\"0mm\" fo:padding-bottom=\"0mm\" fo:padding-left=\"0mm\" fo:padding-right=\"0mm\""
#define SG_XML_HEAD "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
static const char MIME[] = "application/vnd.oasis.opendocument.presentation";
static const char SPACES[] =
    " xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:style=\"urn:oasis:names:tc:opendocument:xmlns:style:1.0\""
    " xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" xmlns:draw=\"urn:oasis:names:tc:opendocument:xmlns:drawing:1.0\""
    " xmlns:presentation=\"urn:oasis:names:tc:opendocument:xmlns:presentation:1.0\" xmlns:fo=\"urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0\""
    " xmlns:svg=\"urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0\" xmlns:anim=\"urn:oasis:names:tc:opendocument:xmlns:animation:1.0\""
    " xmlns:smil=\"urn:oasis:names:tc:opendocument:xmlns:smil-compatible:1.0\" xmlns:meta=\"urn:oasis:names:tc:opendocument:xmlns:meta:1.0\""
    " xmlns:dc=\"http://purl.org/dc/elements/1.1/\" office:version=\"1.3\">\n";
static const char FACES[] =
    "<office:font-face-decls><style:font-face style:name=\"figure\" svg:font-family=\"&apos;Liberation Sans&apos;, Arial, Helvetica\""
    " style:font-family-generic=\"swiss\" style:font-pitch=\"variable\"/></office:font-face-decls>\n";

/* ---- frames ---- */
typedef struct { double x, y, w, h; } Place;

/* style: one that every ground has. */
static void open_frame(SgOdp *o, const char *style, const char *class, Place at)
{
    sg_putf(&o->body, "<draw:frame %s:style-name=\"%s%u\"", class ? "presentation" : "draw", style, (unsigned)o->now);
    if (class) sg_putf(&o->body, " presentation:class=\"%s\"", class);
    sg_odp_length(&o->body, " svg:x=\"", at.x);
    sg_odp_length(&o->body, " svg:y=\"", at.y);
    sg_odp_length(&o->body, " svg:width=\"", at.w);
    sg_odp_length(&o->body, " svg:height=\"", at.h);
}

static SgStr told(const SgOdp *o, SgTextId id, const char *hole, SgStr value) { return sg_filled(o->a, o->page->wording, id, &(SgHole){ hole, value }, 1); }

/* Over the whole strip below the figure, opaque: each covers the ones before it, shown or printed. more: what the step brings,
   for those who cannot see it; empty none. Returns its id. */
static uint32_t put_strip(SgOdp *o, SgTextId what, uint32_t step, const SgWords *line, uint32_t n, SgStr more)
{
    const SgPage *p = o->page;
    SgPoint at = sg_output_caption_at(p, (int)p->nsteps);
    double left = at.x_mm * o->scale, top = o->top_mm + (at.y_mm - SG_FACE_ASCENT * p->caption_size_mm) * o->scale;
    open_frame(o, "strip", NULL, (Place){ left, top, o->wide_mm - 2 * left, SG_ODP_HIGH_MM - top });
    sg_put_xml_attribute(&o->body, " draw:name=\"", told(o, what, "step", sg_format(o->a, "%u", (unsigned)step)));
    sg_putf(&o->body, " xml:id=\"p%u\"><draw:text-box>", (unsigned)++o->ids);
    sg_odp_paragraph(o, p->caption_size_mm * o->scale);
    for (uint32_t i = 0; i < n; i++) {
        if (i > 0) sg_puts(&o->body, " ");
        sg_odp_spans(o, &line[i], o->scale, p->caption_rgb);
    }
    sg_puts(&o->body, "</text:p></draw:text-box>");
    if (more.n) {
        sg_puts(&o->body, "<svg:desc>");
        sg_put_xml(&o->body, more);
        sg_puts(&o->body, "</svg:desc>");
    }
    sg_puts(&o->body, "</draw:frame>\n");
    return o->ids;
}

/* In the order they are shown; a step without words clears the strip. */
static void put_strips(SgOdp *o)
{
    const SgPage *p = o->page;
    bool shown = false;
    o->caption = SG_ARRAY(o->a, uint32_t, (size_t)p->nsteps + 1);
    o->question = SG_ARRAY(o->a, uint32_t, (size_t)p->nsteps + 1);
    for (uint32_t k = 0; k < p->nsteps; k++) {
        const SgPageStep *s = &p->step[k];
        if (s->nask) o->question[k] = put_strip(o, SG_TEXT_shape_question, k + 1, s->ask_line, s->nask, SG_LIT(""));
        shown = shown || s->nask > 0;
        if (s->plain.n || shown) o->caption[k] = put_strip(o, SG_TEXT_shape_caption, k + 1, s->line, s->nlines, s->told);
        shown = s->plain.n > 0;
    }
}

/* ---- a slide ---- */
static void put_paragraph(SgBuf *b, const char *style, SgStr text)
{
    sg_putf(b, "<text:p text:style-name=\"%s\">", style);
    sg_put_xml(b, text);
    sg_puts(b, "</text:p>");
}

static void put_notes(SgOdp *o, uint32_t number)
{
    SgBuf *b = &o->body;
    const SgPage *p = o->page;
    sg_puts(b, "<presentation:notes draw:style-name=\"notes-page\">");
    sg_putf(b, "<draw:page-thumbnail presentation:style-name=\"thumb\" draw:page-number=\"%u\" presentation:class=\"page\"", (unsigned)number);
    sg_odp_length(b, " svg:x=\"", 25);
    sg_odp_length(b, " svg:y=\"", 20);
    sg_odp_length(b, " svg:width=\"", 160);
    sg_odp_length(b, " svg:height=\"", 90);
    sg_puts(b, "/>\n");
    open_frame(o, "notes", "notes", (Place){ 25, 122, 160, 155 });
    sg_puts(b, "><draw:text-box>");
    for (uint32_t k = 0; k < p->nsteps; k++) {
        const SgPageStep *s = &p->step[k];
        put_paragraph(b, "note-step", told(o, SG_TEXT_notes_step, "step", sg_format(o->a, "%u", (unsigned)k + 1)));
        if (s->ask.n) put_paragraph(b, "note-ask", told(o, SG_TEXT_notes_ask, "question", s->ask));
        if (s->plain.n) put_paragraph(b, "note", s->plain);
        if (s->say.n) put_paragraph(b, "note-say", s->say);
    }
    if (p->nsteps == 0) sg_puts(b, "<text:p/>");
    sg_puts(b, "</draw:text-box></draw:frame></presentation:notes>\n");
}

static uint32_t ground_of(SgOdp *o)
{
    SgOdpGround g = { o->page->paper_rgb };
    for (uint32_t i = 0; i < o->ground.n; i++)
        if (o->ground.v[i].paper_rgb == g.paper_rgb) return i + 1;
    SG_PUSH(o->a, &o->ground, g);
    return o->ground.n;
}

static void put_slide(SgOdp *o, const SgPage *page, uint32_t number)
{
    SgBuf *b = &o->body;
    o->page = page;
    o->chain = sg_output_chains(o->a, page);
    o->now = ground_of(o);
    sg_put_xml_attribute(b, "<draw:page draw:name=\"", page->id);
    sg_putf(b, " draw:style-name=\"slide%u\" draw:master-page-name=\"Figure\">\n", (unsigned)o->now);
    if (page->title.n) {
        double left = sg_output_caption_at(page, 0).x_mm * o->scale;
        open_frame(o, "title", "title", (Place){ left, 0, o->wide_mm - 2 * left, o->top_mm });
        sg_puts(b, "><draw:text-box>");
        /* The master's title has one colour; this one's is a span's. */
        SgOdpLetters l = { SG_FACE_BOLD, page->caption_rgb, SG_ODP_TITLE_EM_MM, 0, 100 };
        sg_putf(b, "<text:p><text:span text:style-name=\"t%u\">", (unsigned)sg_odp_letters(o, l));
        sg_put_xml(b, page->title);
        sg_puts(b, "</text:span></text:p></draw:text-box></draw:frame>\n");
    }
    sg_odp_items(o);
    put_strips(o);
    sg_odp_timeline(o);
    put_notes(o, number);
    sg_puts(b, "</draw:page>\n");
}

/* ---- the parts ---- */
static const char CONTENT_STYLES[] =
    "<style:style style:name=\"notes-page\" style:family=\"drawing-page\"/>\n"
    "<style:style style:name=\"thumb\" style:family=\"presentation\"><style:graphic-properties draw:fill=\"none\" draw:stroke=\"none\"/></style:style>\n"
    "<style:style style:name=\"note\" style:family=\"paragraph\"><style:text-properties fo:font-size=\"12pt\"/></style:style>\n"
    "<style:style style:name=\"note-step\" style:family=\"paragraph\"><style:paragraph-properties fo:margin-top=\"2.5mm\"/>"
    "<style:text-properties fo:font-size=\"12pt\" fo:font-weight=\"bold\"/></style:style>\n"
    "<style:style style:name=\"note-ask\" style:family=\"paragraph\"><style:text-properties fo:font-size=\"12pt\" fo:font-style=\"italic\"/></style:style>\n"
    "<style:style style:name=\"note-say\" style:family=\"paragraph\"><style:paragraph-properties fo:margin-left=\"6mm\"/>"
    "<style:text-properties fo:font-size=\"12pt\"/></style:style>\n"
    "<style:style style:name=\"words\" style:family=\"graphic\"><style:graphic-properties draw:fill=\"none\" draw:stroke=\"none\"" SG_NO_PADDING
    " draw:auto-grow-width=\"true\" draw:auto-grow-height=\"true\" fo:wrap-option=\"no-wrap\" draw:textarea-horizontal-align=\"left\""
    " draw:textarea-vertical-align=\"top\" fo:min-width=\"0mm\" fo:min-height=\"0mm\"/><style:paragraph-properties fo:text-align=\"start\"/></style:style>\n";

/* What depends on the paper of a slide: its ground, the frame of its title, the strip that covers what was said before. */
static void put_ground(const SgOdpGround *g, uint32_t number, SgBuf *b)
{
    unsigned n = number, paper = g->paper_rgb;
    sg_putf(b, "<style:style style:name=\"slide%u\" style:family=\"drawing-page\"><style:drawing-page-properties draw:fill=\"solid\""
        " draw:fill-color=\"#%06x\" presentation:background-visible=\"true\"/></style:style>\n", n, paper);
    sg_putf(b, "<style:style style:name=\"title%u\" style:family=\"presentation\" style:parent-style-name=\"Figure-title\"/>\n", n);
    sg_putf(b, "<style:style style:name=\"notes%u\" style:family=\"presentation\" style:parent-style-name=\"Figure-notes\"/>\n", n);
    sg_putf(b, "<style:style style:name=\"strip%u\" style:family=\"graphic\"><style:graphic-properties draw:fill=\"solid\" draw:fill-color=\"#%06x\""
        " draw:stroke=\"none\"" SG_NO_PADDING " draw:auto-grow-width=\"false\" draw:auto-grow-height=\"false\" fo:wrap-option=\"wrap\""
        " draw:textarea-vertical-align=\"top\"/><style:paragraph-properties fo:text-align=\"start\" fo:line-height=\"117%%\"/></style:style>\n", n, paper);
}

/* The title's and the notes' looks are the master's, whose name begins theirs. */
static const char MASTER_STYLES[] =
    "<style:style style:name=\"Figure-title\" style:family=\"presentation\"><style:graphic-properties draw:fill=\"none\" draw:stroke=\"none\"" SG_NO_PADDING
    " draw:textarea-vertical-align=\"middle\" draw:auto-grow-height=\"false\" draw:fit-to-size=\"false\"/>"
    "<style:paragraph-properties fo:text-align=\"start\"/><style:text-properties fo:font-size=\"20.4pt\" fo:font-weight=\"bold\"/></style:style>\n"
    "<style:style style:name=\"Figure-notes\" style:family=\"presentation\"><style:graphic-properties draw:fill=\"none\" draw:stroke=\"none\"" SG_NO_PADDING "/>"
    "<style:paragraph-properties fo:margin-bottom=\"2mm\"/><style:text-properties fo:font-size=\"12pt\"/></style:style>\n";

static SgStr content(SgOdp *o, const SgPage *const *page, uint32_t npages)
{
    SgBuf b = { .arena = o->a };
    for (uint32_t i = 0; i < npages; i++) put_slide(o, page[i], i + 1);
    sg_puts(&b, SG_XML_HEAD "<office:document-content");
    sg_puts(&b, SPACES);
    sg_puts(&b, FACES);
    sg_puts(&b, "<office:automatic-styles>\n");
    sg_puts(&b, CONTENT_STYLES);
    for (uint32_t i = 0; i < o->ground.n; i++) put_ground(&o->ground.v[i], i + 1, &b);
    sg_odp_put_styles(o, &b);
    sg_puts(&b, "</office:automatic-styles>\n<office:body><office:presentation>\n");
    sg_put(&b, o->body.v, o->body.n);
    sg_puts(&b, "</office:presentation></office:body></office:document-content>\n");
    return sg_buf_str(&b);
}

static void put_page_layout(SgBuf *b, const char *name, double w, double h)
{
    sg_putf(b, "<style:page-layout style:name=\"%s\"><style:page-layout-properties fo:margin=\"0mm\"", name);
    sg_odp_length(b, " fo:page-width=\"", w);
    sg_odp_length(b, " fo:page-height=\"", h);
    sg_putf(b, " style:print-orientation=\"%s\"/></style:page-layout>\n", w > h ? "landscape" : "portrait");
}

static SgStr styles(SgOdp *o, SgStr language)
{
    SgBuf b = { .arena = o->a };
    sg_puts(&b, SG_XML_HEAD "<office:document-styles");
    sg_puts(&b, SPACES);
    sg_puts(&b, FACES);
    sg_puts(&b, "<office:styles>\n");
    static const char *const family[] = { "graphic", "presentation" };
    for (int i = 0; i < 2; i++) {
        sg_putf(&b, "<style:default-style style:family=\"%s\"><style:text-properties style:font-name=\"figure\" fo:font-size=\"18pt\"", family[i]);
        sg_put_xml_attribute(&b, " fo:language=\"", language);
        sg_puts(&b, " fo:country=\"none\" fo:color=\"#000000\"/></style:default-style>\n");
    }
    sg_puts(&b, MASTER_STYLES);
    sg_odp_put_dashes(o, &b);
    sg_puts(&b, "</office:styles>\n<office:automatic-styles>\n");
    put_page_layout(&b, "slide-size", o->wide_mm, SG_ODP_HIGH_MM);
    put_page_layout(&b, "notes-size", SG_NOTES_W_MM, SG_NOTES_H_MM);
    sg_puts(&b, "<style:style style:name=\"ground\" style:family=\"drawing-page\"><style:drawing-page-properties draw:fill=\"solid\" draw:fill-color=\"#ffffff\""
        " presentation:background-visible=\"true\"/></style:style>\n</office:automatic-styles>\n<office:master-styles>\n"
        "<style:master-page style:name=\"Figure\" style:page-layout-name=\"slide-size\" draw:style-name=\"ground\">"
        "<presentation:notes style:page-layout-name=\"notes-size\"/></style:master-page>\n"
        "</office:master-styles></office:document-styles>\n");
    return sg_buf_str(&b);
}

static SgStr description(SgOdp *o, const SgPage *const *page, uint32_t npages, SgStr language, const char *version)
{
    SgBuf b = { .arena = o->a };
    sg_puts(&b, SG_XML_HEAD "<office:document-meta");
    sg_puts(&b, SPACES);
    sg_putf(&b, "<office:meta><meta:generator>Sagitta/%s</meta:generator>", version);
    if (npages > 0) {
        sg_puts(&b, "<dc:title>");
        sg_put_xml(&b, page[0]->title.n ? page[0]->title : page[0]->id);
        sg_puts(&b, "</dc:title>");
    }
    sg_puts(&b, "<dc:language>");
    sg_put_xml(&b, language);
    sg_puts(&b, "</dc:language></office:meta></office:document-meta>\n");
    return sg_buf_str(&b);
}

static SgStr manifest(SgOdp *o)
{
    SgBuf b = { .arena = o->a };
    sg_puts(&b, SG_XML_HEAD "<manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\" manifest:version=\"1.3\">\n");
    sg_putf(&b, "<manifest:file-entry manifest:full-path=\"/\" manifest:version=\"1.3\" manifest:media-type=\"%s\"/>\n", MIME);
    static const char *const parts[] = { "content.xml", "styles.xml", "meta.xml" };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        sg_putf(&b, "<manifest:file-entry manifest:full-path=\"%s\" manifest:media-type=\"text/xml\"/>\n", parts[i]);
    sg_puts(&b, "</manifest:manifest>\n");
    return sg_buf_str(&b);
}

void sg_output_odp(SgArena *a, const SgPage *const *page, uint32_t npages, const char *version, SgOdpPart *part)
{
    SgOdp *o = SG_NEW(a, SgOdp);
    o->a = o->body.arena = a;
    o->scale = SG_ODP_HIGH_MM / SG_SLIDE_HIGH_MM;
    o->top_mm = SG_SLIDE_HEADING_MM * o->scale;
    o->wide_mm = (npages > 0 ? page[0]->w_mm : sg_slide_wide_mm(SG_SLIDE_16_9)) * o->scale;
    SgStr language = (npages > 0 ? page[0]->wording : &sg_wording_english)->text[SG_TEXT_language];
    SgStr slides = content(o, page, npages);           /* first: the styles are of what it used */
    part[0] = (SgOdpPart){ "mimetype", { MIME, sizeof MIME - 1 } };
    part[1] = (SgOdpPart){ "META-INF/manifest.xml", manifest(o) };
    part[2] = (SgOdpPart){ "meta.xml", description(o, page, npages, language, version) };
    part[3] = (SgOdpPart){ "styles.xml", styles(o, language) };
    part[4] = (SgOdpPart){ "content.xml", slides };
}
