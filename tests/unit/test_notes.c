/* Speaker's notes on paper: every text once, nothing outside the margins, a step on one page with its picture.
   in: a script of many steps, printed by a printer of our own that only looks. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "print/print.h"
#include "sagitta.h"

enum { STEPS = 14 };
typedef struct { uint32_t pages, outside, split; int headings[STEPS + 1]; int captions[STEPS + 1], says[STEPS + 1]; } Seen;
static Seen seen;

static int number_after(SgStr text, const char *word)
{
    size_t n = strlen(word);
    return text.n > n && memcmp(text.s, word, n) == 0 ? atoi(text.s + n) : 0;
}

/* Where the ink of an item reaches to. */
static bool inside(const SgItem *it, const SgPage *page)
{
    double margin = 10, right = it->words ? it->words->width_mm : 0;
    for (uint32_t i = 0; i < it->nxy; i++)
        if (it->xy[i].x_mm < margin || it->xy[i].x_mm + right > page->w_mm - margin || it->xy[i].y_mm < margin || it->xy[i].y_mm > page->h_mm - margin) return false;
    return true;
}

static SgPrinted look(const SgPage *const *page, uint32_t npages, const SgPdfOptions *options, SgBuf *out)
{
    (void)options;
    seen.pages = npages;
    for (uint32_t p = 0; p < npages; p++) {
        cr_expect(page[p]->w_mm == 210 && page[p]->h_mm == 297);
        int on_page = 0;
        for (uint32_t i = 0; i < page[p]->nitems; i++) {
            const SgItem *it = &page[p]->item[i];
            seen.outside += !inside(it, page[p]);
            if (!it->words) continue;
            int step = number_after(it->words->plain, "Step "), told = number_after(it->words->plain, "Caption "), say = number_after(it->words->plain, "Say ");
            if (step) seen.headings[on_page = step]++;
            if (told) seen.captions[told]++;
            if (say) seen.says[say]++;
            if (told || say) seen.split += (told ? told : say) != on_page;        /* its heading stands on another page */
        }
    }
    sg_puts(out, "looked at");
    return (SgPrinted){ .state = SG_PRINT_DONE };
}

static void write_script(char *to, size_t size, uint32_t many)
{
    size_t n = (size_t)snprintf(to, size, "figure f \"Notes\" {\n    lens L converging focal 3 cm at 8 cm\n    object lamp height 1 cm at 5 cm before L\n");
    for (int k = 1; k <= STEPS; k++) {
        n += (size_t)snprintf(to + n, size - n, "    step \"Caption %d\" {\n        say \"Say %d", k, k);
        for (uint32_t w = 0; w < (k == 3 ? many : 20); w++) n += (size_t)snprintf(to + n, size - n, " and_so_*on*");
        n += (size_t)snprintf(to + n, size - n, "\"\n        ray from lamp.tip toward (8 cm, %d mm)\n    }\n", k);
    }
    snprintf(to + n, size - n, "}\n");
}

Test(notes, stand_whole_on_paper)
{
    static const SgPrinter printer = { .pdf = look };
    static char script[100000];
    for (int longer = 0; longer < 2; longer++) {
        SgResult r;
        write_script(script, sizeof script, longer ? 330 : 20);
        SgJob job = { .kind = SG_JOB_NOTES, .form = SG_FORM_PDF, .printer = &printer, .path = "notes.sag", .script = script, .script_length = strlen(script) };
        seen = (Seen){ 0 };
        cr_assert_eq(sg_compile(&job, &r), SG_DONE, "%s", r.messages);
        cr_expect(r.nproducts == 1 && r.product[0].length == 9);
        cr_expect(seen.pages > 2);
        cr_expect_eq(seen.outside, 0, "%u items reach into the margins", seen.outside);
        cr_expect_eq(seen.split, 0, "%u texts stand on another page than their step", seen.split);
        for (int k = 1; k <= STEPS; k++) cr_expect(seen.headings[k] == 1 && seen.captions[k] == 1 && seen.says[k] == 1, "step %d: %d %d %d", k, seen.headings[k], seen.captions[k], seen.says[k]);
        sg_result_free(&r);
    }
}
