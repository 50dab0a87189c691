/* One job out of arbitrary bytes, and what must hold of its result whatever they are.
   in: bytes: the first chooses the job, the second its options, the rest is the script. out: NULL, or what does not hold.
   never: trusts the script. */
#ifndef TEST_FUZZJOB_H
#define TEST_FUZZJOB_H
#include <stddef.h>
#include <stdint.h>

enum { FUZZ_HEAD = 2, FUZZ_JOBS = 10 };     /* 0 check, 1 draw, 2 solve, 3 tidy, 4 ask, 5 notes, 6 slides, 7 presentation, 8 expand, 9 answers; as digits */
const char *fuzz_fault(const uint8_t *data, size_t n);
#endif
