/* render/quantity.h: what each map shows: figures, unit, fixed limits of the scale, classes. */
#ifndef GRADIN_RENDER_QUANTITY_H
#define GRADIN_RENDER_QUANTITY_H

#include "gradin/render.h"

/* A figure, its scale and its classes. Everything in SI except where "shown" is said. */
typedef struct quantity {
    gradin_map map;
    const char *title;   /* without the unit */
    const char *unit;    /* shown; NULL for the rating */
    const double *value; /* [n_seat]; NULL for the rating */
    double low, high;    /* ends of the colour scale, the same for every layout */
    double shown_per_si;
    double tick_shown;           /* between two ticks of the scale */
    int decimals;                /* of a shown value */
    bool is_high_good;           /* good is bright on every map */
    bool opens_low, opens_high;  /* values beyond that end of the scale can occur */
    const double *limit;         /* [3] clear, good, fair; NULL without classes */
    double criterion;            /* one limit instead of classes; NAN without */
    const gradin_spread *spread; /* over all seats, or NULL */
    gradin_shade_state shades;   /* how the shades are drawn */
    bool is_noise;
} quantity;

quantity quantity_of(const gradin_assessment *assessment, gradin_map map);

/* Place on the colour scale, 0 poor .. 1 good; NAN where the figure does not apply. */
double quantity_quality(const quantity *q, double value);
/* Class of a seat by this figure alone (the rating map: its rating); -1 where it does not apply. */
int quantity_class(const quantity *q, const gradin_assessment *assessment, int seat);
/* Worse than the last class boundary, or over the criterion. */
bool quantity_is_marked(const quantity *q, const gradin_assessment *assessment, int seat);
/* What is printed in the seat and the place of its colour on the scale. */
void quantity_seat(const quantity *q, const gradin_assessment *assessment, int seat, char text[16],
                   double *quality);
/* A shown value with the quantity's decimals, such as "15.0". */
char *quantity_text(const quantity *q, double value, char text[16]);

/* The same for a limit, with one decimal more where it would be rounded. */
char *quantity_limit_text(const quantity *q, double value, char text[16]);
/* Title and unit. */
void quantity_heading(const quantity *q, char *text, size_t size);

const char *quantity_class_name(gradin_rating rating);
double quantity_class_quality(gradin_rating rating);

#endif
