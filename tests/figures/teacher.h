/* Scripts as a teacher would write them: one mirror or lens, an object, its rays, its image, lengths, angles, points.
   in: a seed. out: a script of one figure with up to 15 labels. never: the same script for two seeds, but for chance. */
#ifndef TEST_TEACHER_H
#define TEST_TEACHER_H
#include <stddef.h>
#include <stdint.h>

void teacher_script(char *out, size_t room, uint64_t seed);
#endif
