/* print/reading: language, alternative texts and viewer preferences of a PDF (ISO 32000-1: 14.9.2, 14.9.3, 12.2, 14.7.2).
   In: cairo's bytes. Out: the same document, written again by libqpdf, with an ID made of its contents.
   Never changes a page. */
#include "print/reading.h"

#include <qpdf/qpdf-c.h>
#include <string.h>

typedef struct { qpdf_data q; const SgAloud *reading; uint32_t told; } Pass;

static bool is_tag(Pass *p, qpdf_oh element, const char *tag)
{
    qpdf_oh s = qpdf_oh_get_key_if_dict(p->q, element, "/S");
    return qpdf_oh_is_name(p->q, s) && strcmp(qpdf_oh_get_name(p->q, s), tag) == 0;
}

static void tell(Pass *p, qpdf_oh element)
{
    if (!is_tag(p, element, "/Figure")) return;
    if (p->told++ >= p->reading->ntold) return;
    const SgTold *told = &p->reading->told[p->told - 1];
    qpdf_oh_replace_key(p->q, element, "/Alt", qpdf_oh_new_unicode_string(p->q, told->text));
    if (strcmp(told->language, p->reading->language) != 0)
        qpdf_oh_replace_key(p->q, element, "/Lang", qpdf_oh_new_unicode_string(p->q, told->language));
}

/* Everything tagged becomes part of one document; cairo leaves it lying side by side. */
static void gather(Pass *p, qpdf_oh root)
{
    qpdf_oh kids = qpdf_oh_get_key_if_dict(p->q, root, "/K");
    if (!qpdf_oh_is_array(p->q, kids)) kids = qpdf_oh_wrap_in_array(p->q, kids);
    int n = qpdf_oh_get_array_n_items(p->q, kids);
    qpdf_oh document = qpdf_make_indirect_object(p->q, qpdf_oh_new_dictionary(p->q));
    qpdf_oh_replace_key(p->q, document, "/Type", qpdf_oh_new_name(p->q, "/StructElem"));
    qpdf_oh_replace_key(p->q, document, "/S", qpdf_oh_new_name(p->q, "/Document"));
    qpdf_oh_replace_key(p->q, document, "/P", root);
    qpdf_oh_replace_key(p->q, document, "/K", kids);
    for (int i = 0; i < n; i++) {
        qpdf_oh kid = qpdf_oh_get_array_item(p->q, kids, i);
        if (!qpdf_oh_is_dictionary(p->q, kid)) continue;
        qpdf_oh_replace_key(p->q, kid, "/P", document);
        tell(p, kid);
    }
    qpdf_oh_replace_key(p->q, root, "/K", document);
}

static void set_catalogue(Pass *p)
{
    qpdf_oh catalogue = qpdf_get_root(p->q), marked = qpdf_oh_new_dictionary(p->q), viewer = qpdf_oh_new_dictionary(p->q);
    qpdf_oh structure = qpdf_oh_get_key_if_dict(p->q, catalogue, "/StructTreeRoot");
    qpdf_oh_replace_key(p->q, catalogue, "/Lang", qpdf_oh_new_unicode_string(p->q, p->reading->language));
    qpdf_oh_replace_key(p->q, marked, "/Marked", qpdf_oh_new_bool(p->q, QPDF_TRUE));
    qpdf_oh_replace_key(p->q, catalogue, "/MarkInfo", marked);
    qpdf_oh_replace_key(p->q, viewer, "/DisplayDocTitle", qpdf_oh_new_bool(p->q, QPDF_TRUE));
    qpdf_oh_replace_key(p->q, viewer, "/PrintScaling", qpdf_oh_new_name(p->q, "/None"));
    qpdf_oh_replace_key(p->q, catalogue, "/ViewerPreferences", viewer);
    if (qpdf_oh_is_dictionary(p->q, structure)) gather(p, structure);
}

static bool failed(QPDF_ERROR_CODE code) { return (code & QPDF_ERRORS) != 0; }

/* Streams stay as cairo compressed them. */
static bool rewrite(qpdf_data q)
{
    if (failed(qpdf_init_write_memory(q))) return false;
    qpdf_set_deterministic_ID(q, QPDF_TRUE);
    qpdf_set_stream_data_mode(q, qpdf_s_preserve);
    qpdf_set_object_stream_mode(q, qpdf_o_preserve);
    return !failed(qpdf_write(q));
}

const char *sg_print_reading(const unsigned char *pdf, size_t n, const SgAloud *reading, SgTakeBytes *take, void *with)
{
    Pass p = { .q = qpdf_init(), .reading = reading };
    const char *trouble = NULL;
    qpdf_silence_errors(p.q);
    qpdf_set_suppress_warnings(p.q, QPDF_TRUE);
    if (failed(qpdf_read_memory(p.q, "figures", (const char *)pdf, n, NULL))) trouble = "libqpdf could not read the document";
    else set_catalogue(&p);
    if (trouble == NULL && qpdf_has_error(p.q)) trouble = "libqpdf could not change the document";
    if (trouble == NULL && p.told != reading->ntold) trouble = "the document has not the figures that were drawn";
    if (trouble == NULL && !rewrite(p.q)) trouble = "libqpdf could not write the document";
    if (trouble == NULL) take(with, qpdf_get_buffer(p.q), qpdf_get_buffer_length(p.q));
    qpdf_cleanup(&p.q);
    return trouble;
}
