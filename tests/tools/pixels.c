/* pixels A.png B.png [XA YA XB YB W H]: how far apart two pictures are, or a window of W by H pixels in each. On standard output:
   the greatest difference of the means over squares of 4 by 4 pixels (0 to 255, the worst of red, green and blue, on white),
   where it is, and the mean difference of all pixels. Lines that are only smoothed otherwise stay low in the first; a piece
   that is missing or moved does not. Status 2 when the sizes differ. */
#include <cairo.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

enum { SIDE = 4 };
typedef struct { const unsigned char *data; int stride, w, h; } Picture;

static cairo_surface_t *read_png(const char *path, Picture *p)
{
    cairo_surface_t *s = cairo_image_surface_create_from_png(path);
    if (cairo_surface_status(s) != CAIRO_STATUS_SUCCESS) {
        fprintf(stderr, "%s: %s\n", path, cairo_status_to_string(cairo_surface_status(s)));
        exit(2);
    }
    *p = (Picture){ cairo_image_surface_get_data(s), cairo_image_surface_get_stride(s), cairo_image_surface_get_width(s),
                    cairo_image_surface_get_height(s) };
    if (cairo_image_surface_get_format(s) == CAIRO_FORMAT_ARGB32 || cairo_image_surface_get_format(s) == CAIRO_FORMAT_RGB24) return s;
    fprintf(stderr, "%s: a picture of 8 bits a colour is wanted\n", path);
    exit(2);
}

/* Colours are stored multiplied by their alpha, so what white shows through is added. */
static int on_white(const unsigned char *pixel, int colour, int has_alpha) { return pixel[colour] + (has_alpha ? 255 - pixel[3] : 0); }

int main(int argc, char **argv)
{
    Picture a, b;
    if (argc != 3 && argc != 9) return 2;
    cairo_surface_t *sa = read_png(argv[1], &a), *sb = read_png(argv[2], &b);
    int alpha_a = cairo_image_surface_get_format(sa) == CAIRO_FORMAT_ARGB32, alpha_b = cairo_image_surface_get_format(sb) == CAIRO_FORMAT_ARGB32;
    int window[6] = { 0, 0, 0, 0, b.w, b.h };
    for (int i = 3; i < argc; i++) window[i - 3] = atoi(argv[i]);
    int xa = window[0], ya = window[1], xb = window[2], yb = window[3], w = window[4], h = window[5];
    bool whole = argc == 3 && (a.w != b.w || a.h != b.h);
    if (whole || xa + w > a.w || ya + h > a.h || xb + w > b.w || yb + h > b.h || w < SIDE || h < SIDE) {
        fprintf(stderr, "%s is %d by %d, %s is %d by %d\n", argv[1], a.w, a.h, argv[2], b.w, b.h);
        return 2;
    }
    double worst = 0, all = 0;
    int at_x = 0, at_y = 0;
    for (int y = 0; y + SIDE <= h; y += SIDE) {
        for (int x = 0; x + SIDE <= w; x += SIDE) {
            int sum[3] = { 0 };
            for (int k = 0; k < SIDE * SIDE; k++) {
                const unsigned char *pa = a.data + (ya + y + k / SIDE) * a.stride + (xa + x + k % SIDE) * 4;
                const unsigned char *pb = b.data + (yb + y + k / SIDE) * b.stride + (xb + x + k % SIDE) * 4;
                for (int c = 0; c < 3; c++) {
                    int d = on_white(pa, c, alpha_a) - on_white(pb, c, alpha_b);
                    sum[c] += d;
                    all += abs(d) / 3.0;
                }
            }
            for (int c = 0; c < 3; c++) {
                double d = fabs(sum[c] / (double)(SIDE * SIDE));
                if (d > worst) { worst = d; at_x = x; at_y = y; }
            }
        }
    }
    printf("%.1f %d %d %.3f\n", worst, at_x, at_y, all / ((double)w * h));
    cairo_surface_destroy(sa);
    cairo_surface_destroy(sb);
    return 0;
}
