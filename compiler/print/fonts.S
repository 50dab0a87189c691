/* The bytes of Liberation Sans 2 (SIL Open Font License 1.1), unchanged, as print/fonts.h names them. The assembler
   takes them in, for a compiler needs seconds for an array of this length. The folder they lie in is told to the assembler. */
    .section .rodata
#define FONT(name, file) \
    .balign 8; .global sg_ttf_##name; sg_ttf_##name: .incbin file; \
    .global sg_ttf_##name##_end; sg_ttf_##name##_end: .byte 0
FONT(upright, "LiberationSans-Regular.ttf")
FONT(italic, "LiberationSans-Italic.ttf")
FONT(bold, "LiberationSans-Bold.ttf")
    .section .note.GNU-stack, "", %progbits
