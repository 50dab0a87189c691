/* print/pack: see pack.h. In: parts. Out: a zip archive in memory. Never reads the clock: every part is of 1 January 1980. */
#include "print/pack.h"

#include <stdlib.h>
#include <zip.h>

enum { FIRST_DAY = 1 << 5 | 1 };       /* the first date that a zip archive can hold: day 1, month 1, year 0 from 1980 */

static bool add_parts(zip_t *archive, const SgPackPart *part, uint32_t nparts)
{
    for (uint32_t i = 0; i < nparts; i++) {
        zip_source_t *source = zip_source_buffer(archive, part[i].bytes, part[i].length, 0);
        zip_int64_t at = source != NULL ? zip_file_add(archive, part[i].name, source, ZIP_FL_ENC_UTF_8) : -1;
        if (at < 0) {
            zip_source_free(source);
            return false;
        }
        zip_uint64_t index = (zip_uint64_t)at;
        if (zip_set_file_compression(archive, index, i == 0 ? ZIP_CM_STORE : ZIP_CM_DEFLATE, 0) != 0) return false;
        if (zip_file_set_dostime(archive, index, 0, FIRST_DAY, 0) != 0) return false;
    }
    return true;
}

static bool read_all(zip_source_t *source, char **bytes, size_t *length)
{
    zip_stat_t stat;
    if (zip_source_stat(source, &stat) != 0 || zip_source_open(source) != 0) return false;
    *length = (size_t)stat.size;
    *bytes = malloc(*length + 1);
    bool whole = *bytes != NULL && zip_source_read(source, *bytes, stat.size) == (zip_int64_t)stat.size;
    zip_source_close(source);
    if (!whole) free(*bytes);
    return whole;
}

bool sg_pack(const SgPackPart *part, uint32_t nparts, char **bytes, size_t *length)
{
    zip_source_t *source = zip_source_buffer_create(NULL, 0, 0, NULL);
    if (source == NULL) return false;
    zip_source_keep(source);           /* ours, and the archive's */
    zip_t *archive = zip_open_from_source(source, ZIP_TRUNCATE, NULL);
    bool good = archive != NULL && add_parts(archive, part, nparts);
    if (archive == NULL) zip_source_free(source);
    if (archive != NULL && (!good || zip_close(archive) != 0)) {
        zip_discard(archive);
        good = false;
    }
    good = good && read_all(source, bytes, length);
    zip_source_free(source);
    return good;
}
