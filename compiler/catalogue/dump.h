/* Part of catalogue: the tables written out for people, manuals, editors and fuzzers. All text is UTF-8 and ends its lines. */
#ifndef SG_DUMP_H
#define SG_DUMP_H
#include "catalogue/catalogue.h"

void sg_dump_text(SgBuf *out);                             /* to read in a terminal, at most 79 columns */
void sg_dump_markdown(SgBuf *out);                         /* a section a kind, for a manual */
void sg_dump_json(SgBuf *out, const char *version);        /* everything, for editors */
void sg_dump_dictionary(SgBuf *out);                       /* every word, sign and unit once, quoted, one a line, for fuzzers */
void sg_dump_messages(SgBuf *out);                         /* every message code with its title and explanation */

/* What the tables, the text and the manual have in common. */
const char *sg_dump_takes(SgType type, SgDim dim);         /* "LENGTH", "PLACE", ... in place of a value; "" for none */
const char *sg_dump_type_doc(uint32_t i, const char **name);   /* what each such word stands for; NULL past the last */
const char *sg_dump_built_in(uint32_t i, const char **doc);    /* names that are there without being declared; NULL past the last */
void sg_dump_usage(SgBuf *out, SgKind kind);               /* "mirror NAME" */
/* Phrases of `kind` with the same group as `id`, joined by ", "; false when `id` is not the first of them. */
bool sg_dump_choice(SgBuf *out, SgPhraseId id);
void sg_dump_stands(SgBuf *out, SgKind kind);              /* "in the file or in a figure" */
void sg_dump_code(SgBuf *out, SgCode code);                /* the id as shown, with - for _ */
#endif
