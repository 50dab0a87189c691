/* Answers that a sheet gives away. In: a problem worked out, its statement. Out: a warning for each text of the question or of the
   figure's givens that tells a value asked for. Equal expressions only: an equal number may well be another quantity. */
#include "sheet/build.h"

static bool same(const SgExpr *a, const SgExpr *b)
{
    if (a->op != b->op || a->nargs != b->nargs || a->sign != b->sign || a->in_file != b->in_file) return false;
    if (a->op == SG_E_NUMBER) return !(a->value < b->value || a->value > b->value) && sg_same_dim(a->dim, b->dim);
    if (a->op == SG_E_TEXT || a->op == SG_E_CHAIN || a->op == SG_E_POISON) return false;
    if (a->op == SG_E_SYMBOL) return a->symbol == b->symbol;
    if ((a->op == SG_E_PROPERTY || a->op == SG_E_WORD) && a->sym != b->sym) return false;
    if (a->op == SG_E_CALL && a->function != b->function) return false;
    for (uint32_t i = 0; i < a->nargs; i++) if (!same(a->arg[i], b->arg[i])) return false;
    return true;
}

static void look(SgSolved *s, const SgSheetProblem *p, const SgExpr *text, const char *where)
{
    for (uint32_t i = 0; text && text->op == SG_E_TEXT && i < text->nargs; i++)
        for (uint32_t k = 0; k < p->nasked; k++) {
            if (!same(text->arg[i], p->asked[k].expression)) continue;
            SgStr words = p->asked[k].words;
            sg_say(s->c, SG_MSG_answer_told, text->arg[i]->at, "%s tells %.*s, which problem %.*s asks for; take it out of the text, or ask for something else", where, (int)words.n, words.s, (int)p->name.n, p->name.s);
            break;
        }
}

void sg_sheet_told(SgSolved *s, const SgStatement *problem, const SgSheetProblem *p)
{
    if (s->set.version > 0) return;                    /* the same in all of them */
    const SgScope *scope = s->figure->scope;
    look(s, p, problem->caption, "the question");
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        bool words = st->kind == SG_KIND_label || st->kind == SG_KIND_note || st->kind == SG_KIND_dimension || st->kind == SG_KIND_angle;
        const SgPhrase *named = sg_phrase(st, SG_PHRASE_common_named);
        if (st->step > (int)p->given_up_to || sg_phrase(st, SG_PHRASE_common_hidden)) continue;
        if (words) look(s, p, st->caption, "a text among what is given");
        if (named && named->n) look(s, p, named->value[0], "a name among what is given");
    }
}
