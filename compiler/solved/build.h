/* Inside the solved stage: what its files share. */
#ifndef SG_SOLVED_BUILD_H
#define SG_SOLVED_BUILD_H
#include "solved/solved.h"

/* How one kind is solved: a function for each of its parts (NULL: nothing to do), and its properties.
   A part that fails says so and leaves the thing's state SG_POISON. */
typedef struct {
    void (*part[3])(SgSolved *s, uint32_t symbol);
    SgValue (*property)(SgSolved *s, uint32_t symbol, SgPropertyId id);
} SgKindSolver;
/* What light meets from an object to an image, in order: symbols. */
enum { SG_CHAIN = 8 };
typedef struct { uint32_t object, by[SG_CHAIN], n; } SgChain;
bool sg_image_chain(const SgSolved *s, uint32_t image, SgChain *chain);        /* false for more elements than a chain holds */
SgStr sg_plain_name(const SgSolved *s, uint32_t symbol);       /* as markup: an underscore in a name is no subscript */
bool sg_chain_begins(const SgChain *whole, const SgChain *part);
extern const SgKindSolver sg_mirror_solver, sg_lens_solver, sg_object_solver, sg_image_solver, sg_ray_solver, sg_point_solver,
    sg_boundary_solver, sg_stop_solver, sg_screen_solver, sg_eye_solver, sg_beam_solver, sg_fan_solver, sg_system_solver;

SgValue sg_value_number(double number, SgDim dim);
SgValue sg_value_point(SgPoint p);
SgValue sg_value_poison(void);
SgValue sg_value_infinite(SgDim dim);
SgValue sg_value_undefined(const char *why);
SgValue sg_value_truth(bool truth);
SgValue sg_value_text(SgStr text);

#define SG_DIM_NUMBER ((SgDim){ 0, 0 })
#define SG_DIM_LENGTH ((SgDim){ 1, 0 })
#define SG_DIM_ANGLE ((SgDim){ 0, 1 })
#define SG_DIM_POWER ((SgDim){ -1, 0 })

void sg_read_settings(SgSolved *s);                            /* model, light, scale: of the figure, else of the file */
const SgStatement *sg_setting(const SgSolved *s, SgKind kind);  /* the figure's own, else its file's; NULL none */
void sg_read_convention(SgSolved *s);
void sg_read_caution(SgSolved *s);                             /* asked for, or by the names of its light */
void sg_check_demands(SgSolved *s);                            /* require and expect, once all is solved */

/* Said about a figure: marks it broken and gives poison to return. */
SgValue sg_wrong(SgSolved *s, SgCode code, SgSpan at, const char *fmt, ...) __attribute__((format(printf, 4, 5)));
const SgStatement *sg_statement_of(const SgSolved *s, uint32_t symbol);
SgStr sg_name_of(const SgSolved *s, uint32_t symbol);          /* "a ray" when it has none */
/* A phrase's value; state SG_POISON after a message, *given false when it is not written. */
SgValue sg_read(SgSolved *s, uint32_t symbol, SgPhraseId id, bool *given);
bool sg_word_is(const SgSolved *s, const SgExpr *e, const char *word);
SgStr sg_show_length(SgSolved *s, double mm);                  /* in the figure's unit, to 0.1 cm, for messages: "3.4 cm" */
SgStr sg_show_figure(SgSolved *s, SgValue v, const SgHoleFormat *f);   /* for texts on the figure; f NULL: the usual rounding */
bool sg_is_element(SgKind kind);                               /* makes images: mirror, lens, boundary */
bool sg_meets_light(SgKind kind);                              /* elements, stops and screens */
double sg_travel_sense(const SgSurface *s, SgPoint travel);    /* +1: light comes from the front */
/* A length that must be more than nought, 1e-9 to 1e12 mm; false after a message or when not written. sort: the flag that
   already gives the sign, NULL none. */
bool sg_read_size(SgSolved *s, uint32_t symbol, SgPhraseId id, const char *sort, double *mm);
bool sg_read_medium(SgSolved *s, uint32_t symbol, SgPhraseId id, double usual, double *index);
bool sg_read_facing(SgSolved *s, const SgPhrase *p, SgPoint *front);     /* a word, or an angle from the right of the page; unit */
bool sg_read_edge(SgSolved *s, uint32_t symbol, SgPhraseId id, SgElement *e);
/* Where an element stands: its vertex and the way light arrives. false (and the thing poisoned) after a message. */
bool sg_stand(SgSolved *s, uint32_t symbol, SgPhraseId at, SgPhraseId face, SgPhraseId turned);
bool sg_radii_lens(SgSolved *s, uint32_t symbol);              /* shape of a lens given by radii */
void sg_spread_of_image(SgSolved *s, SgImage *image);          /* by rule: tip from the crossings, spread and shift */
/* Draws a ray or image wrongly where the set asks for it; false after a message. */
bool sg_mistake_ray(SgSolved *s, uint32_t symbol, SgPath *p);
bool sg_mistake_image(SgSolved *s, uint32_t symbol, SgImage *im);
void sg_solve_node(SgSolved *s, SgGraphNode node);
/* Whether 20 million steps of work are done; says so once. */
bool sg_worked_out(SgSolved *s, SgSpan at);
void sg_solve_find(SgSolved *s, uint32_t symbol);
void sg_solve_file_node(SgSolved *s, uint32_t symbol);
/* Chooses the picks of the file, then of the figure, for all versions of the set, and sets those of its version: before any
   other node is worked out. */
void sg_solve_picks(SgSolved *s);
uint64_t sg_pick_hash(const SgStr *part, uint32_t nparts);
/* Whether a demand holds; says so when it is no condition at all. */
bool sg_demand_holds(SgSolved *s, const SgStatement *st);
/* A mark's two ends; its normal's foot and unit direction along the light; the line it stands for in an angle. False after a message. */
bool sg_mark_ends(SgSolved *s, const SgStatement *st, SgPhraseId from, SgPhraseId to, SgPoint *a, SgPoint *b);
bool sg_mark_normal(SgSolved *s, const SgStatement *st, uint32_t *element, SgPoint *foot, SgPoint *direction);
bool sg_mark_line(SgSolved *s, uint32_t symbol, SgLineValue *line);
bool sg_default_point(const SgSolved *s, uint32_t symbol, bool foot, SgPoint *p);
#endif
