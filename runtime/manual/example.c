/* Draws the figure of a script that stands in the program. */
#include <sagitta.h>
#include <stdio.h>
#include <string.h>

int main(void)
{
    SgJob job = { .kind = SG_JOB_DRAW, .path = "lamp",
        .script = "figure lamp { lens L converging focal 3 cm at 8 cm\n"
                  "object lamp height 1 cm at 5 cm before L\nconstruct picture of lamp by L }" };
    SgResult result;
    job.script_length = strlen(job.script);
    SgStatus status = sg_compile(&job, &result);
    fwrite(result.messages, 1, result.messages_length, stderr);
    if (status == SG_DONE) fwrite(result.product[0].bytes, 1, result.product[0].length, stdout);
    sg_result_free(&result);
    return (int)status;
}
