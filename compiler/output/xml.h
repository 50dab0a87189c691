/* Part of output: text as it stands in XML and HTML. */
#ifndef SG_XML_H
#define SG_XML_H
#include "base/base.h"

/* & < > " as entities, for text and for attributes in double quotes; what XML forbids (controls but tab and line ends) left out. */
void sg_put_xml(SgBuf *b, SgStr s);
/* ` name="text"`; name comes with its space, sign and quote: sg_put_xml_attribute(b, " id=\"", id). */
void sg_put_xml_attribute(SgBuf *b, const char *opening, SgStr s);
#endif
