/* cli: the forms a figure can be drawn in. In: the list of --as. Out: forms, or a fault. Never makes one. */
#include "cli/forms.h"

#include <stdio.h>
#include <string.h>

static const SgForm FORM[] = {
    [SG_AS_SVG] = { "svg", SG_JOB_DRAW, SG_FORM_SVG },
    [SG_AS_PDF] = { "pdf", SG_JOB_DRAW, SG_FORM_PDF },
    [SG_AS_PNG] = { "png", SG_JOB_DRAW, SG_FORM_PNG },
    [SG_AS_HTML] = { "html", SG_JOB_SLIDES, SG_FORM_SVG },
    [SG_AS_ODP] = { "odp", SG_JOB_PRESENTATION, SG_FORM_SVG },
};
_Static_assert(sizeof FORM / sizeof *FORM == SG_AS_COUNT, "every form has its row");

const SgForm *sg_cli_form(SgAs as) { return &FORM[as]; }

bool sg_cli_has_form(const SgForms *forms, SgAs as)
{
    for (uint32_t i = 0; i < forms->n; i++)
        if (forms->as[i] == as) return true;
    return false;
}

bool sg_cli_forms_print(const SgForms *forms)
{
    return sg_cli_has_form(forms, SG_AS_PDF) || sg_cli_has_form(forms, SG_AS_PNG) || sg_cli_has_form(forms, SG_AS_ODP);
}

static SgAs form_spelled(const char *word, size_t n)
{
    for (int k = 0; k < SG_AS_COUNT; k++)
        if (strlen(FORM[k].word) == n && strncmp(word, FORM[k].word, n) == 0) return (SgAs)k;
    return SG_AS_COUNT;
}

bool sg_cli_forms(const char *list, SgForms *forms, SgFault *fault)
{
    *forms = (SgForms){ .n = 0 };
    for (const char *from = list;; from++) {
        size_t n = strcspn(from, ",");
        int shown = n < 40 ? (int)n : 40;
        SgAs as = form_spelled(from, n);
        if (as == SG_AS_COUNT || sg_cli_has_form(forms, as)) {
            const char *wrong = as != SG_AS_COUNT ? "stands there twice" : "is no form of a figure";
            if (n == 0) snprintf(fault->text, sizeof fault->text, "--as %.100s: a form is missing; ", list);
            else snprintf(fault->text, sizeof fault->text, "--as %.100s: `%.*s` %s; ", list, shown, from, wrong);
            strcat(fault->text, "write some of svg, pdf, png, html and odp, with commas and no spaces between them");
            return false;
        }
        forms->as[forms->n++] = as;
        from += n;
        if (*from == '\0') return true;
    }
}
