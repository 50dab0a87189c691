/* Reads the drawn geometry of an SVG on its own: what is stroked and filled, where, how wide, in which colour.
   in: the bytes of an SVG. out: strokes and discs in millimetres of the figure, y down, with every transform applied.
   never: looks at class names, ids or data- attributes, nor knows the compiler that wrote it. */
#ifndef TEST_SVGREAD_H
#define TEST_SVGREAD_H
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct { double x, y; } SvgPoint;
/* One subpath, line, polyline, polygon, rectangle, circle or ellipse. */
typedef struct {
    SvgPoint *at; uint32_t n;      /* corners and ends in order; along an arc or a curve, points on it, ends included */
    bool closed, curved;           /* curved: at least one piece is no straight line */
    bool round;                    /* a full circle: centre and radius hold */
    SvgPoint centre; double radius;
    bool stroked, filled;
    uint32_t stroke, fill;         /* 0xRRGGBB; SVG_OTHER_COLOUR for one this reader does not know */
    double width;                  /* of the stroke */
    double dash[8]; uint32_t ndash;
} SvgShape;
typedef struct {
    double width, height;          /* of the drawing, mm */
    SvgShape *shape; uint32_t n, cap;
    bool well_formed;              /* the XML could be read, and every path, transform and number in it */
} SvgDrawing;
enum { SVG_OTHER_COLOUR = 0x1000000 };

/* Leaves out what is never painted where it stands: defs, clip paths, masks, symbols, titles, text, and glyphs by `use`. */
SvgDrawing svg_read(const char *bytes, size_t length);
void svg_free(SvgDrawing *drawing);
#endif
