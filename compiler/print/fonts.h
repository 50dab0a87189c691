/* Part of print: the fonts that PDF embeds, whole, put into the program by print_faces.S when it is built. */
#ifndef SG_PRINT_FACES_H
#define SG_PRINT_FACES_H

extern const unsigned char sg_ttf_upright[], sg_ttf_upright_end[];
extern const unsigned char sg_ttf_italic[], sg_ttf_italic_end[];
extern const unsigned char sg_ttf_bold[], sg_ttf_bold_end[];
#endif
