/* Draws the figures of a script to standard output after taking on the locale of the environment, whose decimal mark must
   be a comma: shows that an embedder's setlocale changes no byte. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sagitta.h"

int main(int argc, char **argv)
{
    static char script[1 << 20];
    if (setlocale(LC_ALL, "") == NULL || strcmp(localeconv()->decimal_point, ",") != 0) {
        fputs("locale_draw: the locale's decimal mark is no comma\n", stderr);
        return 2;
    }
    FILE *f = argc == 2 ? fopen(argv[1], "rb") : NULL;
    if (f == NULL) return 2;
    size_t n = fread(script, 1, sizeof script, f);
    fclose(f);
    for (int solve = 0; solve < 2; solve++) {
        SgJob job = { .kind = solve ? SG_JOB_SOLVE : SG_JOB_DRAW, .path = argv[1], .script = script, .script_length = n, .every = true, .json = true };
        SgResult result;
        SgStatus status = sg_compile(&job, &result);
        fwrite(result.messages, 1, result.messages_length, stderr);
        for (uint32_t i = 0; i < result.nproducts; i++) fwrite(result.product[i].bytes, 1, result.product[i].length, stdout);
        sg_result_free(&result);
        if (status != SG_DONE) return (int)status;
    }
    return 0;
}
