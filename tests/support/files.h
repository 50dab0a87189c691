/* Help for the suites: reads the files of tests/ and runs jobs through the library's one call.
   in: paths below the tests folder, scripts as text. out: bytes, answers.
   never: knows what is right. */
#ifndef TEST_FILES_H
#define TEST_FILES_H
#include "sagitta.h"
#include <stddef.h>

/* The whole of tests/PATH, zero-ended, to be freed; NULL when it cannot be read. The suites run in the project's folder;
   TESTS_FOLDER, a macro or an environment variable, names the tests folder otherwise. */
char *test_read(const char *path, size_t *length);

/* Names of the files in tests/FOLDER that end with `ending`, sorted; each and the list to be freed. */
char **test_list(const char *folder, const char *ending, size_t *count);

/* A job on one script; the result is the caller's to free with sg_result_free. */
SgStatus test_run(SgJobKind kind, const char *path, const char *script, size_t length, const char *figure,
                  const char *expression, SgResult *result);

/* digits[.digits][e[+-]digits] or a fraction a/b of such, with a sign; never asks the locale. False when it is no number. */
bool test_number(const char *s, double *value, const char **end);
#endif
