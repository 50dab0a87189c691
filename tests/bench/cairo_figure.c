/* cairo_figure OUT FACE_FILE: a bare program of the same size of work, drawn with cairo into SVG, PDF or, at 150 pixels an inch,
   PNG, as OUT ends: 120 bent rays, 40 arcs, 20 dashed lines, 20 filled heads and 20 labels on 160 mm by 120 mm, the face read
   from a file by FreeType (no font server). */
#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <stdio.h>
#include <string.h>

#define MM (72.0 / 25.4)

static void rays(cairo_t *cr)
{
    for (int k = 0; k < 120; k++) {
        cairo_move_to(cr, 10 * MM, (10 + k * 0.8) * MM);
        cairo_line_to(cr, 90 * MM, (12 + k * 0.7) * MM);
        cairo_line_to(cr, 150 * MM, (60 - k * 0.3) * MM);
        cairo_stroke(cr);
    }
}

static void marks(cairo_t *cr)
{
    static const double dash[] = { 2 * MM, 1 * MM };
    for (int k = 0; k < 40; k++) {
        cairo_new_sub_path(cr);
        cairo_arc(cr, (20 + 3 * k) * MM, 60 * MM, 6 * MM, 0, 0.5);
        cairo_stroke(cr);
    }
    cairo_set_dash(cr, dash, 2, 0);
    for (int k = 0; k < 20; k++) {
        cairo_move_to(cr, 90 * MM, (20 + 4 * k) * MM);
        cairo_line_to(cr, 150 * MM, (25 + 3 * k) * MM);
        cairo_stroke(cr);
    }
    cairo_set_dash(cr, dash, 0, 0);
    for (int k = 0; k < 20; k++) {
        double x = (30 + 5 * k) * MM, y = 40 * MM;
        cairo_move_to(cr, x, y);
        cairo_line_to(cr, x - 2.5 * MM, y - 0.5 * MM);
        cairo_line_to(cr, x - 2.5 * MM, y + 0.5 * MM);
        cairo_close_path(cr);
        cairo_fill(cr);
    }
}

static void labels(cairo_t *cr, FT_Face face)
{
    cairo_font_face_t *font = cairo_ft_font_face_create_for_ft_face(face, 0);
    cairo_set_font_face(cr, font);
    cairo_set_font_size(cr, 9);
    for (int k = 0; k < 20; k++) {
        char text[32];
        snprintf(text, sizeof text, "focus F of mirror %d", k + 1);
        cairo_move_to(cr, (10 + 30 * (k % 5)) * MM, (20 + 20 * (k / 5)) * MM);
        cairo_show_text(cr, text);
    }
    cairo_font_face_destroy(font);
}

static cairo_surface_t *surface_for(const char *out)
{
    const char *dot = strrchr(out, '.');
    if (dot != NULL && strcmp(dot, ".pdf") == 0) return cairo_pdf_surface_create(out, 160 * MM, 120 * MM);
    if (dot == NULL || strcmp(dot, ".png") != 0) return cairo_svg_surface_create(out, 160 * MM, 120 * MM);
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(160 / 25.4 * 150 + 0.5), (int)(120 / 25.4 * 150 + 0.5));
    cairo_surface_set_device_scale(image, 150 / 72.0, 150 / 72.0);
    return image;
}

int main(int argc, char **argv)
{
    FT_Library library;
    FT_Face face;
    if (argc != 3 || FT_Init_FreeType(&library) != 0 || FT_New_Face(library, argv[2], 0, &face) != 0) return 1;
    cairo_surface_t *surface = surface_for(argv[1]);
    cairo_t *cr = cairo_create(surface);
    if (cairo_surface_get_type(surface) == CAIRO_SURFACE_TYPE_IMAGE) {
        cairo_set_source_rgb(cr, 1, 1, 1);
        cairo_paint(cr);
        cairo_set_source_rgb(cr, 0, 0, 0);
    }
    cairo_set_line_width(cr, 1);
    rays(cr);
    marks(cr);
    labels(cr, face);
    cairo_status_t status = cairo_status(cr);
    cairo_destroy(cr);
    if (status == CAIRO_STATUS_SUCCESS && cairo_surface_get_type(surface) == CAIRO_SURFACE_TYPE_IMAGE) status = cairo_surface_write_to_png(surface, argv[1]);
    cairo_surface_destroy(surface);
    return status == CAIRO_STATUS_SUCCESS ? 0 : 1;
}
