/* cli: the manifest, the contact sheet and the dependencies of a call that drew.
   in     drawings: scripts, what they use, their products and where these go.
   out    JSON, HTML and rules for make and ninja.
   never  opens a file. */
#include "cli/lists.h"

#include <stdio.h>
#include <string.h>

#include "base/num.h"
#include "cli/sha256.h"
#include "output/xml.h"

/* ---- the manifest ---- */

/* How many bytes of s are one character of UTF-8; 0 when they are none. Names of files may be any bytes. */
static uint32_t character(const unsigned char *s)
{
    uint32_t n = s[0] < 0x80 ? 1 : s[0] >= 0xC2 && s[0] < 0xE0 ? 2 : s[0] >= 0xE0 && s[0] < 0xF0 ? 3 : s[0] >= 0xF0 && s[0] < 0xF5 ? 4 : 0;
    for (uint32_t i = 1; i < n; i++)
        if ((s[i] & 0xC0) != 0x80) return 0;
    if ((s[0] == 0xE0 && s[1] < 0xA0) || (s[0] == 0xED && s[1] > 0x9F) || (s[0] == 0xF0 && s[1] < 0x90) || (s[0] == 0xF4 && s[1] > 0x8F)) return 0;
    return n;
}

static void put_json(SgBuf *b, const char *text)
{
    sg_put_char(b, '"');
    for (const unsigned char *s = (const unsigned char *)text; *s != '\0';) {
        uint32_t n = character(s);
        if (*s == '"' || *s == '\\') sg_put_char(b, '\\');
        if (*s < 0x20) sg_putf(b, "\\u%04x", (unsigned)*s);
        else if (n == 0) sg_puts(b, "\xEF\xBF\xBD");
        else sg_put(b, (const char *)s, n);
        s += n > 0 ? n : 1;
    }
    sg_put_char(b, '"');
}

static void put_digest(SgBuf *b, const char *name, const char *bytes, size_t length)
{
    char digits[65];
    sg_cli_sha256(bytes, length, digits);
    sg_putf(b, "\"%s\": \"%s\"", name, digits);
}

static void put_source(SgBuf *b, const char *path, const char *bytes, size_t length)
{
    sg_puts(b, "{ \"path\": ");
    put_json(b, path);
    sg_puts(b, ", ");
    put_digest(b, "sha256", bytes, length);
    sg_puts(b, " }");
}

static void put_sources(SgBuf *b, const SgDrawing *d)
{
    sg_puts(b, "      \"sources\": [\n        ");
    put_source(b, d->path, d->script.bytes, d->script.length);
    for (const SgUsedFile *f = sg_cli_used_files(d->used); f != NULL; f = f->next) {
        sg_puts(b, ",\n        ");
        put_source(b, f->path, f->bytes, f->length);
    }
    sg_puts(b, "\n      ]\n");
}

static void put_output(SgBuf *b, const SgDrawing *d, const SgOutput *o)
{
    const SgProduct *p = o->product;
    sg_puts(b, "    {\n      \"path\": ");
    put_json(b, o->path);
    sg_putf(b, ",\n      \"form\": \"%s\"", sg_cli_form(o->as)->word);
    sg_puts(b, ",\n      \"figure\": ");
    put_json(b, p->figure);
    sg_puts(b, ",\n      \"title\": ");
    put_json(b, p->title);
    sg_puts(b, ",\n      \"width_mm\": ");
    sg_put_mm3(b, p->width_mm);
    sg_puts(b, ",\n      \"height_mm\": ");
    sg_put_mm3(b, p->height_mm);
    sg_putf(b, ",\n      \"steps\": %u,\n      \"faces\": [", (unsigned)p->steps);
    for (uint32_t i = 0; i < p->nfaces; i++) {
        sg_puts(b, i > 0 ? ", " : "");
        put_json(b, p->face[i]);
    }
    sg_puts(b, "],\n      \"colours\": [");
    for (uint32_t i = 0; i < p->nrgb; i++) sg_putf(b, "%s\"#%06x\"", i > 0 ? ", " : "", (unsigned)p->rgb[i]);
    sg_putf(b, "],\n      \"bytes\": %zu,\n      ", o->length);
    put_digest(b, "sha256", o->bytes, o->length);
    sg_puts(b, ",\n");
    put_sources(b, d);
    sg_puts(b, "    }");
}

void sg_cli_manifest(const SgDrawing *drawing, uint32_t n, SgBuf *out)
{
    bool first = true;
    sg_puts(out, "{\n  \"manifest\": 1,\n  \"sagitta\": \"" SG_VERSION "\",\n  \"outputs\": [");
    for (uint32_t i = 0; i < n; i++) {
        for (uint32_t k = 0; k < drawing[i].noutputs; k++, first = false) {
            sg_puts(out, first ? "\n" : ",\n");
            put_output(out, &drawing[i], &drawing[i].output[k]);
        }
    }
    sg_puts(out, first ? "]\n}\n" : "\n  ]\n}\n");
}

/* ---- the contact sheet ---- */

static const char SHEET_HEAD[] =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Contact sheet</title>\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
    "<style>\n"
    "@page { size: A4; margin: 12mm }\n"
    "html { color-scheme: light }\n"
    "body { font: 10pt/1.35 \"Liberation Sans\", Arial, Helvetica, sans-serif; color: #000; background: #fff; margin: 6mm }\n"
    "h1 { font-size: 13pt; margin: 0 0 4mm }\n"
    "ul { list-style: none; margin: 0; padding: 0; display: grid; grid-template-columns: repeat(auto-fill, minmax(56mm, 1fr)); gap: 6mm }\n"
    "li { break-inside: avoid; min-width: 0 }\n"
    "img { display: block; box-sizing: border-box; width: 100%; height: 38mm; object-fit: contain; border: 0.2mm solid #888; padding: 2mm }\n"
    "h2 { font-size: 10pt; margin: 1.5mm 0 0; overflow-wrap: anywhere }\n"
    "p { margin: 0; overflow-wrap: anywhere }\n"
    "@media print { body { margin: 0 } }\n"
    "</style>\n</head>\n<body>\n<main>\n";

static void put_base64(SgBuf *b, const char *bytes, size_t length)
{
    static const char SIGN[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned char *s = (const unsigned char *)bytes;
    for (size_t i = 0; i < length; i += 3) {
        size_t left = length - i;
        uint32_t three = (uint32_t)s[i] << 16 | (left > 1 ? (uint32_t)s[i + 1] << 8 : 0u) | (left > 2 ? s[i + 2] : 0u);
        sg_put_char(b, SIGN[three >> 18]);
        sg_put_char(b, SIGN[three >> 12 & 63]);
        sg_put_char(b, left > 1 ? SIGN[three >> 6 & 63] : '=');
        sg_put_char(b, left > 2 ? SIGN[three & 63] : '=');
    }
}

/* Whether a file has this picture: the same figure, and the same frame of it or all its steps. */
static bool shows(const SgOutput *o, const SgProduct *picture)
{
    if (strcmp(o->product->figure, picture->figure) != 0) return false;
    return o->product->frame == NULL || (picture->frame != NULL && strcmp(o->product->frame, picture->frame) == 0);
}

static bool is_output(const SgDrawing *d, const SgProduct *picture)
{
    for (uint32_t k = 0; k < d->noutputs; k++)
        if (shows(&d->output[k], picture)) return true;
    return false;
}

/* The picture stands as data of its own, so that no id of one figure can meet that of another. */
static void put_cell(SgBuf *b, const SgDrawing *d, const SgProduct *p)
{
    const char *title = p->title[0] != '\0' ? p->title : p->figure;
    sg_puts(b, "<li>\n");
    sg_put_xml_attribute(b, "<img alt=\"", sg_str(p->brief[0] != '\0' ? p->brief : title));
    sg_puts(b, " src=\"data:image/svg+xml;base64,");
    put_base64(b, p->bytes, p->length);
    sg_puts(b, "\">\n<h2>");
    sg_put_xml(b, sg_str(title));
    sg_puts(b, "</h2>\n<p>");
    sg_put_xml(b, sg_str(p->figure));
    sg_puts(b, ", ");
    sg_put_fixed(b, p->width_mm, 1);
    sg_puts(b, " \xC3\x97 ");
    sg_put_fixed(b, p->height_mm, 1);
    sg_puts(b, " mm</p>\n");
    for (uint32_t k = 0; k < d->noutputs; k++) {
        if (!shows(&d->output[k], p)) continue;
        sg_puts(b, "<p>");
        sg_put_xml(b, sg_str(d->output[k].path));
        sg_puts(b, "</p>\n");
    }
    sg_puts(b, "</li>\n");
}

void sg_cli_contact_sheet(const SgDrawing *drawing, uint32_t n, SgBuf *out)
{
    uint32_t figures = 0;
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = 0; k < drawing[i].still.nproducts; k++) figures += is_output(&drawing[i], &drawing[i].still.product[k]);
    sg_puts(out, SHEET_HEAD);
    sg_putf(out, "<h1>%u figure%s</h1>\n", (unsigned)figures, figures == 1 ? "" : "s");
    sg_puts(out, figures > 0 ? "<ul>\n" : "");
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = 0; k < drawing[i].still.nproducts; k++)
            if (is_output(&drawing[i], &drawing[i].still.product[k])) put_cell(out, &drawing[i], &drawing[i].still.product[k]);
    sg_puts(out, figures > 0 ? "</ul>\n" : "");
    sg_puts(out, "</main>\n</body>\n</html>\n");
}

/* ---- dependencies ---- */

/* make and ninja agree on a backslash before a space or #, and on $$; of these signs they do not. */
static bool put_path(SgBuf *b, const char *path, SgFault *fault)
{
    for (const char *s = path; *s != '\0'; s++) {
        if ((unsigned char)*s < ' ' || strchr("\\%:;=|*?[]~", *s) != NULL) {
            bool visible = (unsigned char)*s > ' ';
            snprintf(fault->text, sizeof fault->text, "--depfile: %.300s: make and ninja do not read %s%c%s alike in a path; give it another name",
                path, visible ? "`" : "a control character", visible ? *s : ' ', visible ? "`" : "");
            return false;
        }
        if (*s == ' ' || *s == '#') sg_put_char(b, '\\');
        if (*s == '$') sg_put_char(b, '$');
        sg_put_char(b, *s);
    }
    return true;
}

static bool put_inputs(SgBuf *b, const SgDrawing *d, SgFault *fault)
{
    sg_put_char(b, ' ');
    if (!put_path(b, d->path, fault)) return false;
    for (const SgUsedFile *f = sg_cli_used_files(d->used); f != NULL; f = f->next) {
        sg_put_char(b, ' ');
        if (!put_path(b, f->path, fault)) return false;
    }
    return true;
}

/* A rule without a recipe, so that an input that is gone later is no error. Several scripts may use the same file. */
static bool put_empty_rule(SgBuf *b, SgNames *told, const char *path, SgFault *fault)
{
    uint32_t before = told->n;
    sg_names_sym(told, path, (uint32_t)strlen(path));
    if (told->n == before) return true;
    if (!put_path(b, path, fault)) return false;
    sg_puts(b, ":\n");
    return true;
}

static bool put_empty_rules(SgBuf *b, const SgDrawing *drawing, uint32_t n, SgFault *fault)
{
    SgNames told;
    sg_names_init(&told, b->arena);
    for (uint32_t i = 0; i < n; i++) {
        if (!put_empty_rule(b, &told, drawing[i].path, fault)) return false;
        for (const SgUsedFile *f = sg_cli_used_files(drawing[i].used); f != NULL; f = f->next)
            if (!put_empty_rule(b, &told, f->path, fault)) return false;
    }
    return true;
}

bool sg_cli_dependencies(const SgDrawing *drawing, uint32_t n, const char *const *list, uint32_t nlists, SgBuf *out, SgFault *fault)
{
    for (uint32_t i = 0; i < n; i++) {
        const SgDrawing *d = &drawing[i];
        if (d->noutputs == 0) continue;
        for (uint32_t k = 0; k < d->noutputs; k++) {
            if (k > 0) sg_put_char(out, ' ');
            if (!put_path(out, d->output[k].path, fault)) return false;
        }
        sg_put_char(out, ':');
        if (!put_inputs(out, d, fault)) return false;
        sg_put_char(out, '\n');
    }
    for (uint32_t l = 0; l < nlists; l++) {
        if (list[l] == NULL) continue;
        if (!put_path(out, list[l], fault)) return false;
        sg_put_char(out, ':');
        for (uint32_t i = 0; i < n; i++)
            if (!put_inputs(out, &drawing[i], fault)) return false;
        sg_put_char(out, '\n');
    }
    return put_empty_rules(out, drawing, n, fault);
}

/* ---- the texts ---- */
static void put_quoted(SgBuf *b, const char *text, const char *end)
{
    sg_put_char(b, '"');
    for (; *text != '\0'; text++) {
        if (*text == '"') sg_put_char(b, '"');
        sg_put_char(b, *text);
    }
    sg_put_char(b, '"');
    sg_puts(b, end);
}

void sg_cli_texts(const SgDrawing *drawing, uint32_t n, SgBuf *out)
{
    sg_puts(out, "figure,title,short,long,width_mm,height_mm,steps,file\r\n");
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = 0; k < drawing[i].noutputs; k++) {
            const SgProduct *p = drawing[i].output[k].product;
            put_quoted(out, p->figure, ",");
            put_quoted(out, p->title, ",");
            put_quoted(out, p->brief, ",");
            put_quoted(out, p->describe, ",");
            sg_put_mm3(out, p->width_mm);
            sg_put_char(out, ',');
            sg_put_mm3(out, p->height_mm);
            sg_putf(out, ",%u,", (unsigned)p->steps);
            put_quoted(out, drawing[i].output[k].path, "\r\n");
        }
}
