/* print/pack: see pack.h. In: parts. Out: a zip archive in memory. Never reads the clock: every part is of 1 January 1980. */
#include "print/pack.h"

#include <stdlib.h>
#include <string.h>
#include <zip.h>
#include <zlib.h>

/* The first date that a zip archive can hold, day 1 of month 1 of year 0 from 1980; and the bit that says that names are UTF-8. */
enum { FIRST_DAY = (1 << 5 | 1) << 16, NAMES_UTF_8 = 1 << 11 };

/* ---- a file in memory, for a library that wants one ---- */
typedef struct { char *bytes; size_t length, cap, at; bool no_memory; } Memory;

static voidpf memory_open(voidpf memory, const void *name, int mode)
{
    (void)name, (void)mode;
    return memory;
}

static uLong memory_read(voidpf memory, voidpf stream, void *to, uLong n)
{
    Memory *m = memory;
    (void)stream;
    if (n > m->length - m->at) n = m->length - m->at;
    memcpy(to, m->bytes + m->at, n);
    m->at += n;
    return n;
}

static uLong memory_write(voidpf memory, voidpf stream, const void *from, uLong n)
{
    Memory *m = memory;
    (void)stream;
    if (m->at + n > m->cap) {
        char *more = realloc(m->bytes, (m->at + n) * 2);
        if (more == NULL) {
            m->no_memory = true;
            return 0;
        }
        m->bytes = more;
        m->cap = (m->at + n) * 2;
    }
    memcpy(m->bytes + m->at, from, n);
    m->at += n;
    if (m->at > m->length) m->length = m->at;
    return n;
}

static ZPOS64_T memory_tell(voidpf memory, voidpf stream)
{
    (void)stream;
    return ((Memory *)memory)->at;
}

static long memory_seek(voidpf memory, voidpf stream, ZPOS64_T offset, int origin)
{
    Memory *m = memory;
    size_t from = origin == ZLIB_FILEFUNC_SEEK_CUR ? m->at : origin == ZLIB_FILEFUNC_SEEK_END ? m->length : 0;
    (void)stream;
    if (from + offset > m->length) return -1;
    m->at = from + offset;
    return 0;
}

static int memory_close(voidpf memory, voidpf stream)
{
    (void)memory, (void)stream;
    return 0;
}

static int memory_error(voidpf memory, voidpf stream)
{
    (void)stream;
    return ((Memory *)memory)->no_memory;
}

/* ---- packing ---- */
static bool add_part(zipFile archive, const SgPackPart *part, bool stored)
{
    const zip_fileinfo info = { .dosDate = FIRST_DAY };
    int opened = zipOpenNewFileInZip4_64(archive, part->name, &info, NULL, 0, NULL, 0, NULL, stored ? 0 : Z_DEFLATED, Z_DEFAULT_COMPRESSION, 0,
                                         -MAX_WBITS, DEF_MEM_LEVEL, Z_DEFAULT_STRATEGY, NULL, 0, 20, NAMES_UTF_8, 0);
    bool good = opened == ZIP_OK && part->length < 1u << 31 && zipWriteInFileInZip(archive, part->bytes, (unsigned)part->length) == ZIP_OK;
    return (opened != ZIP_OK || zipCloseFileInZip(archive) == ZIP_OK) && good;
}

bool sg_pack(const SgPackPart *part, uint32_t nparts, char **bytes, size_t *length)
{
    Memory memory = { 0 };
    zlib_filefunc64_def calls = { memory_open, memory_read, memory_write, memory_tell, memory_seek, memory_close, memory_error, &memory };
    zipFile archive = zipOpen2_64("", APPEND_STATUS_CREATE, NULL, &calls);
    bool good = archive != NULL;
    for (uint32_t i = 0; i < nparts && good; i++) good = add_part(archive, &part[i], i == 0);
    if (archive != NULL && zipClose(archive, NULL) != ZIP_OK) good = false;
    if (!good || memory.no_memory) {
        free(memory.bytes);
        return false;
    }
    *bytes = memory.bytes;
    *length = memory.length;
    return true;
}
