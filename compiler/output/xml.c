/* output/xml: the one escaper of texts in XML and HTML. In: UTF-8. Out: the same, safe between tags and in double quotes. */
#include "output/xml.h"

static const char *entity(unsigned char c)
{
    switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    default: return c < 0x20 && c != '\t' && c != '\n' && c != '\r' ? "" : NULL;
    }
}

void sg_put_xml(SgBuf *b, SgStr s)
{
    uint32_t from = 0;
    for (uint32_t i = 0; i < s.n; i++) {
        const char *as = entity((unsigned char)s.s[i]);
        if (as == NULL) continue;
        sg_put(b, s.s + from, i - from);
        sg_puts(b, as);
        from = i + 1;
    }
    sg_put(b, s.s + from, s.n - from);
}

void sg_put_xml_attribute(SgBuf *b, const char *opening, SgStr s)
{
    sg_puts(b, opening);
    sg_put_xml(b, s);
    sg_put_char(b, '"');
}
