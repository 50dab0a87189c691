/* Part of cli: the forms a figure can be drawn in.
   needs  the list that --as gives, or a file's name.
   gives  forms, each once.
   never  knows how one is made. */
#ifndef SG_FORMS_H
#define SG_FORMS_H
#include "cli/files.h"

typedef enum { SG_AS_SVG, SG_AS_PDF, SG_AS_PNG, SG_AS_HTML, SG_AS_ODP, SG_AS_COUNT } SgAs;
typedef struct { const char *word; SgJobKind kind; SgDrawForm form; } SgForm;      /* word: as in --as, and how its files end */
typedef struct { SgAs as[SG_AS_COUNT]; uint32_t n; } SgForms;

const SgForm *sg_cli_form(SgAs as);
/* Reads a list such as svg,pdf. False with a fault that says the mend. */
bool sg_cli_forms(const char *list, SgForms *forms, SgFault *fault);
bool sg_cli_has_form(const SgForms *forms, SgAs as);
/* Whether sagitta-print is needed. */
bool sg_cli_forms_print(const SgForms *forms);
#endif
