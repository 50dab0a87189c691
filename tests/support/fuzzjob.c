/* One job out of arbitrary bytes. See fuzzjob.h. */
#include "fuzzjob.h"
#include "sagitta.h"
#include <stdlib.h>
#include <string.h>

enum { MESSAGES_AT_MOST = 512 * 1024 };

static bool same_product(const SgResult *a, const SgResult *b)
{
    if (a->nproducts != b->nproducts) return false;
    for (uint32_t i = 0; i < a->nproducts; i++) {
        const SgProduct *x = &a->product[i], *y = &b->product[i];
        if (x->length != y->length || (x->length && memcmp(x->bytes, y->bytes, x->length)) || strcmp(x->figure, y->figure)) return false;
    }
    return true;
}

/* Nothing in messages may turn or clear a screen, and each is whole lines. */
static const char *message_fault(const SgResult *r)
{
    if (r->messages_length > MESSAGES_AT_MOST) return "too many bytes of messages";
    for (size_t i = 0; i < r->messages_length; i++) {
        unsigned char c = (unsigned char)r->messages[i];
        if ((c < ' ' && c != '\n' && c != '\t') || c == 0x7F) return "a control character in the messages";
    }
    if (r->messages_length && r->messages[r->messages_length - 1] != '\n') return "the last message has no line end";
    return NULL;
}

/* A number that is none, anywhere in an attribute of a drawing's tag: those hold no words that could look so. */
static const char *drawing_fault(const SgProduct *p, const char *ending)
{
    static const char *const bad[] = { "=\"nan", "=\"-nan", "=\"inf", "=\"-inf", " nan ", " -nan ", ",nan", "(nan" };
    static const char *const tags[] = { "<path", "<line", "<circle", "<text ", "<svg ", "<draw:line", "<draw:poly", "<draw:circle", "<anim:" };
    size_t n = strlen(ending);
    bool whole = p->length > 20 && !memcmp(p->bytes + p->length - n, ending, n);
    if (!whole) return "the drawing has no end";
    const char *tag = memchr(p->bytes, '<', p->length), *end = p->bytes + p->length;
    for (; tag && tag < end; tag = memchr(tag + 1, '<', (size_t)(end - tag - 1))) {
        const char *close = memchr(tag, '>', (size_t)(end - tag));
        if (!close) return "a tag has no end";
        bool drawn = false;
        for (size_t i = 0; i < sizeof tags / sizeof *tags; i++) drawn = drawn || !strncmp(tag, tags[i], strlen(tags[i]));
        if (!drawn) continue;
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
            for (const char *at = tag; at + strlen(bad[i]) < close; at++) if (!strncmp(at, bad[i], strlen(bad[i]))) return "a number that is none in a drawing";
    }
    return NULL;
}

static const char *result_fault(const SgJob *job, SgStatus status, const SgResult *r)
{
    const char *fault = message_fault(r);
    if (fault) return fault;
    if (status != r->status) return "two statuses";
    if (status == SG_MACHINE_FAILED) return "the machine is said to have failed";
    if (status == SG_COMMAND_WRONG && job->kind != SG_JOB_ASK && !job->stop_at_step) return "a plain job is said to be asked wrongly";
    if (status != SG_DONE && (r->nproducts || !r->messages_length)) return "refused without a word, or with a product";
    if (status == SG_DONE && r->errors) return "done in spite of errors";
    if (status == SG_DONE && (job->kind == SG_JOB_SOLVE || job->kind == SG_JOB_TIDY) && r->nproducts != 1) return "no product";
    if (status == SG_DONE && job->kind == SG_JOB_PRESENTATION && r->nproducts != 5) return "a part of the presentation is missing";
    for (uint32_t i = 0; job->kind == SG_JOB_DRAW && i < r->nproducts && !fault; i++) fault = drawing_fault(&r->product[i], "</svg>\n");
    if (status == SG_DONE && job->kind == SG_JOB_NOTES) fault = drawing_fault(&r->product[0], "</html>\n");
    if (status == SG_DONE && job->kind == SG_JOB_PRESENTATION) fault = drawing_fault(&r->product[4], "</office:document-content>\n");
    return fault;
}

/* A tidied script is tidy, and gives the same drawings as before. */
static const char *tidy_fault(const SgJob *job, const SgResult *tidied)
{
    SgJob again = *job, draw = *job;
    SgResult twice, before, after;
    const char *fault = NULL;
    again.script = tidied->product[0].bytes;
    again.script_length = tidied->product[0].length;
    if (sg_compile(&again, &twice) != SG_DONE || !same_product(tidied, &twice)) fault = "tidied twice is not tidied once";
    sg_result_free(&twice);
    draw.kind = again.kind = SG_JOB_DRAW;
    if (sg_compile(&draw, &before) == SG_DONE && (sg_compile(&again, &after), true)) {
        if (!same_product(&before, &after)) fault = "the tidied script is drawn otherwise";
        sg_result_free(&after);
    }
    sg_result_free(&before);
    return fault;
}

const char *fuzz_fault(const uint8_t *data, size_t n)
{
    if (n < FUZZ_HEAD) return NULL;
    unsigned options = (unsigned)data[1] - '0';
    SgJob job = {
        .kind = (SgJobKind[]){ SG_JOB_CHECK, SG_JOB_DRAW, SG_JOB_SOLVE, SG_JOB_TIDY, SG_JOB_ASK,
                               SG_JOB_NOTES, SG_JOB_SLIDES, SG_JOB_PRESENTATION, SG_JOB_EXPAND, SG_JOB_ANSWERS }[(data[0] - '0') % (unsigned)FUZZ_JOBS],
        .path = "x.sag", .script = (const char *)data + FUZZ_HEAD, .script_length = n - FUZZ_HEAD, .every = true,
        .json = options & 1, .still = options & 1, .stop_at_step = options & 2, .step = 1, .strict = options & 4, .expression = "i.distance",
    };
    SgResult r, again;
    SgStatus status = sg_compile(&job, &r);
    const char *fault = result_fault(&job, status, &r);
    if (!fault && (options & 8)) {
        sg_compile(&job, &again);
        bool same = again.messages_length == r.messages_length && (!r.messages_length || !memcmp(again.messages, r.messages, r.messages_length));
        if (!same || !same_product(&r, &again)) fault = "a second run says something else";
        sg_result_free(&again);
    }
    if (!fault && status == SG_DONE && job.kind == SG_JOB_TIDY) fault = tidy_fault(&job, &r);
    sg_result_free(&r);
    return fault;
}
