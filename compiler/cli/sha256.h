/* Part of cli: the SHA-256 digest of bytes (FIPS 180-4), as 64 hexadecimal digits. Written here so that the program needs no
   library but the C library's, also where it is built for another processor. */
#ifndef SG_SHA256_H
#define SG_SHA256_H
#include <stddef.h>

void sg_cli_sha256(const char *bytes, size_t length, char digits[65]);
#endif
