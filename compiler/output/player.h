/* Part of output: what goes into stepped SVG files and into the page of slides, embedded from runtime/ by compiler/tools/embed.sh. */
#ifndef SG_PLAYER_H
#define SG_PLAYER_H
#include <stdint.h>

/* Not zero-ended; never hold what ends a CDATA section, a script or a style sheet. */
extern const unsigned char sg_player_js[], sg_player_css[], sg_slides_js[], sg_slides_css[];
extern const uint32_t sg_player_js_bytes, sg_player_css_bytes, sg_slides_js_bytes, sg_slides_css_bytes;
#endif
