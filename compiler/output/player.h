/* Part of output: the player that goes into stepped SVG files, embedded from runtime/ by compiler/tools/embed.sh. */
#ifndef SG_PLAYER_H
#define SG_PLAYER_H
#include <stdint.h>

extern const unsigned char sg_player_js[], sg_player_css[];        /* not zero-ended; never hold "]]>" */
extern const uint32_t sg_player_js_bytes, sg_player_css_bytes;
#endif
