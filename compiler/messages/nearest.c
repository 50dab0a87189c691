/* The word an author may have meant. In: a word and candidates. Out: the one nearest by edits, or none. */
#include "messages/messages.h"

#include <string.h>

enum { LONGEST = 64, SHORT_WORD = 7 };

/* Edits between two words: a letter more, fewer or other, or two neighbours swapped, count one each; above `most`, most + 1. */
static uint32_t edits(SgStr a, SgStr b, uint32_t most)
{
    uint32_t row[3][LONGEST + 1];
    uint32_t apart = a.n > b.n ? a.n - b.n : b.n - a.n;
    if (apart > most || a.n > LONGEST || b.n > LONGEST) return most + 1;
    for (uint32_t j = 0; j <= b.n; j++) row[0][j] = j;
    for (uint32_t i = 1; i <= a.n; i++) {
        uint32_t *now = row[i % 3], *last = row[(i + 2) % 3], *before = row[(i + 1) % 3];
        now[0] = i;
        for (uint32_t j = 1; j <= b.n; j++) {
            uint32_t best = last[j - 1] + (a.s[i - 1] != b.s[j - 1]);
            if (last[j] + 1 < best) best = last[j] + 1;
            if (now[j - 1] + 1 < best) best = now[j - 1] + 1;
            bool swapped = i > 1 && j > 1 && a.s[i - 1] == b.s[j - 2] && a.s[i - 2] == b.s[j - 1];
            if (swapped && before[j - 2] + 1 < best) best = before[j - 2] + 1;
            now[j] = best;
        }
    }
    return row[a.n % 3][b.n];
}

const char *sg_nearest(SgStr word, const char *const *candidates, uint32_t n)
{
    const char *best = NULL;
    if (word.n < 2) return NULL;
    uint32_t most = word.n <= SHORT_WORD ? 1 : 2, least = most + 1;
    for (uint32_t i = 0; i < n; i++) {
        uint32_t far = edits(word, sg_str(candidates[i]), most);
        if (far < least) {
            least = far;
            best = candidates[i];
        } else if (far == least && far <= most && best && strcmp(best, candidates[i]) != 0) {
            best = NULL;
        }
    }
    return least <= most ? best : NULL;
}
