/* Interned names: equal spelling, equal number, counted from 0 in the order first seen.
   in: spellings that outlive the table. out: symbols. Never forgets one. */
#include "base/base.h"

#include <string.h>

enum { FIRST_SLOTS = 256 };      /* a power of two */

static uint32_t hash_of(const char *s, uint32_t n)
{
    uint32_t h = 2166136261u;    /* FNV-1a, 32 bits */
    for (uint32_t i = 0; i < n; i++) h = (h ^ (uint8_t)s[i]) * 16777619u;
    return h ^ h >> 15;
}

/* The slot of the spelling, or the free slot where it belongs. Slots hold symbol + 1. */
static uint32_t slot_of(const SgNames *names, const char *s, uint32_t n)
{
    uint32_t mask = names->nslots - 1, at = hash_of(s, n) & mask;
    while (names->slot[at]) {
        SgStr other = names->name[names->slot[at] - 1];
        if (other.n == n && (n == 0 || memcmp(other.s, s, n) == 0)) break;
        at = (at + 1) & mask;
    }
    return at;
}

static void spread(SgNames *names, uint32_t nslots)
{
    names->nslots = nslots;
    names->slot = SG_ARRAY(names->arena, uint32_t, nslots);
    for (uint32_t i = 0; i < names->n; i++) names->slot[slot_of(names, names->name[i].s, names->name[i].n)] = i + 1;
}

void sg_names_init(SgNames *names, SgArena *a)
{
    *names = (SgNames){ .arena = a };
    spread(names, FIRST_SLOTS);
}

SgSym sg_names_sym(SgNames *names, const char *s, uint32_t n)
{
    uint32_t at = slot_of(names, s, n);
    if (names->slot[at]) return names->slot[at] - 1;
    SgSym sym = names->n;
    if (names->n == names->cap) names->name = sg_vec_grow(names->arena, names->name, &names->cap, names->n, sizeof *names->name);
    names->name[names->n++] = (SgStr){ s, n };
    names->slot[at] = sym + 1;
    if (names->n * 2 > names->nslots) spread(names, names->nslots * 4);
    return sym;
}

SgSym sg_names_find(const SgNames *names, SgStr s)
{
    uint32_t at = slot_of(names, s.s, s.n);
    return names->slot[at] ? names->slot[at] - 1 : SG_NO_SYM;
}

SgStr sg_names_str(const SgNames *names, SgSym sym)
{
    return sym < names->n ? names->name[sym] : (SgStr){ "", 0 };
}
