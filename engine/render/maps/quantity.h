/* render/maps/quantity.h: what each map shows: figures, unit, fixed limits of the scale, classes.
 */
#ifndef GRADIN_RENDER_QUANTITY_H
#define GRADIN_RENDER_QUANTITY_H

#include "gradin/render.h"
#include "gradin/studies/compare_plot.h"
#include "gradin/studies/outlook.h"
#include "render/draw/colour.h"

enum { SCALE_EDGES = 12 };

/* How well a level is known. */
typedef struct doubt {
    double systematic_db, scatter_db, confidence;
} doubt;

/* A figure of a model's seats, its scale and its classes: all that a page needs. Everything in SI
 * except where "shown" is said. */
typedef struct quantity {
    const gradin_model *model;
    char title[120];          /* without the unit */
    const char *unit;         /* shown, "" without one; NULL for the rating */
    const double *value;      /* [n_seat]; NULL for the rating */
    double low, high;         /* ends of the colour scale */
    double step;              /* of a scale in steps about the limit; 0: 3 dB */
    double edge[SCALE_EDGES]; /* of a scale in steps, rising from low to high */
    int n_edge;               /* 0: a scale without steps, the same for every layout */
    double shown_per_si;
    double tick_shown;           /* between two ticks of the scale */
    int tick_decimals;           /* of the scale's numbers */
    int decimals;                /* of a shown value */
    bool is_high_good;           /* good is bright on every map but that of a difference */
    bool is_difference;          /* zero in the middle of the scale, values with their sign */
    bool opens_low, opens_high;  /* values beyond that end of the scale can occur */
    const double *limit;         /* [3] clear, good, fair; NULL without classes */
    double criterion;            /* one limit instead of classes; NAN without */
    bool is_criterion_hidden;    /* the limit is not drawn on the scale */
    const char *criterion_head;  /* what the one limit is; NULL without a table of it */
    char within[96], over[96];   /* how many seats keep it, how many not */
    const char *mark_text;       /* of the slash; NULL: "over the limit (slash)" */
    const char *none_text;       /* of a seat without the figure; NULL: "does not apply" */
    char note[400];              /* below the counts; "" without */
    char context[300];           /* of the figures, below the title; "" without */
    const gradin_spread *spread; /* over all seats, or NULL */
    gradin_shade_state shades;   /* how the shades are drawn */
    bool is_noise;
    doubt doubt; /* noise only */
    const gradin_verdict
        *verdict;                /* [n_seat] of the value beside the criterion; NULL: bare values */
    const gradin_effect *effect; /* [n_seat] of a comparison: the value is a change; NULL */
    const gradin_pass *pass;     /* drawn at the border; NULL without */
    const char *source_digest;   /* digest of the other inputs beside the model; NULL: none */
    const char *beside_digest;   /* of the layout compared with; NULL: none */
    const gradin_rating *rating; /* [n_seat] of the rating map */
    const gradin_reason *reason; /* [n_seat] of the rating map; may be NULL */
    const gradin_rating
        *seat_class;               /* [n_seat] class where the value alone does not set it; NULL */
    char class_head[120];          /* of the classes; "" for the usual */
    bool has_crowd;                /* audiences were drawn */
    const gradin_outlook *outlook; /* points outside and what they see; NULL without */
    gradin_picture format;         /* of its files */
} quantity;

/* quantity_assess.c: of an assessment's maps and bands. */
quantity quantity_of(const gradin_assessment *assessment, gradin_map map, gradin_map_scale scale);
quantity quantity_of_area(const gradin_assessment *assessment, int area);
quantity quantity_of_band(const gradin_assessment *assessment, int band, gradin_map_scale scale);

/* compare/compare_maps.c: what changes in a pair, at the seats of its second; values in the arena.
 */
gradin_status quantity_of_pair(gradin_arena *arena, const gradin_comparison *comparison, int pair,
                               gradin_compare_map map, quantity *q, gradin_error *error);

/* quantity_noise.c: rows that assessments and seasons share, without values, title and spread. */
quantity quantity_level(const gradin_model *model, doubt known);
void quantity_level_limit(quantity *q, double limit_dba, const char *none_stated);
quantity quantity_band_level(const gradin_model *model, const gradin_band_level *band, doubt known);
quantity quantity_shade_gain(const gradin_model *model, doubt known);

/* scale.c: the ends of a difference by its values, at most those that it has; the high end by its
 * values, the first of end[n_end] that holds them; steps about the limit
 * over the values, or over also[n_also] of [n_seat] (each may be NULL) that share the scale and
 * have them among them; steps between the classes. */
void quantity_reach_difference(quantity *q);
void quantity_reach(quantity *q, const double *end, int n_end);
void quantity_step_levels(quantity *q, const double *const *also, int n_also);
void quantity_step_classes(quantity *q);
/* Between the ends of a fixed scale and its three limits; nothing where a limit lies beyond. */
void quantity_step_limits(quantity *q);
colour quantity_colour(const quantity *q, double value);
/* The colour at 0 .. 1 along the scale from its low end. */
colour quantity_colour_along(const quantity *q, double along);
/* Class of a seat by this figure alone (the rating map: its rating; of what is judged clear is
 * within, fair too near to tell and poor over; of a change clear is better, good no difference and
 * poor worse); -1 where it does not apply. */
int quantity_class(const quantity *q, int seat);
/* Worse than the last class boundary, or over the criterion. */
bool quantity_is_marked(const quantity *q, int seat);
/* A change that cannot be told from none. */
bool quantity_is_same(const quantity *q, int seat);
/* Too near to the criterion to tell. */
bool quantity_is_near(const quantity *q, int seat);
/* What is printed in the seat, and its colour. */
void quantity_seat(const quantity *q, int seat, char text[16], colour *fill);
/* A shown value with the quantity's decimals, such as "15.0". */
char *quantity_text(const quantity *q, double value, char text[16]);

/* A number of the scale, in shown units. */
char *quantity_tick_text(const quantity *q, double shown, char text[16]);
/* The same for a limit, with one decimal more where it would be rounded. */
char *quantity_limit_text(const quantity *q, double value, char text[16]);
/* even.c: the same figure and class at each seat, not of a rating or an outlook; and that line. */
bool quantity_is_even(const quantity *q);
void quantity_even_text(const quantity *q, char *text, size_t size);
/* Title and unit. */
void quantity_heading(const quantity *q, char *text, size_t size);

const char *quantity_class_name(gradin_rating rating);
const char *quantity_class_mark(gradin_rating rating); /* in its seats: "Cl", "Go", "Fa", "Po" */
double quantity_class_quality(gradin_rating rating);

#endif
