/* table/rails/rails.h: what may be said of a rail's height. */
#ifndef GRADIN_TABLE_RAILS_H
#define GRADIN_TABLE_RAILS_H

#include "gradin/sightline.h"
#include "table/shared/text.h"

/* Why a seat has no height, "" when it has one. */
const char *rails_note(const gradin_model *model, const gradin_rail_limits *limits, int seat);
/* The same for a line. */
const char *rails_line_note(const gradin_model *model, double whole_m);
/* The height, NAN when it is below the venue's own minimum or the venue states none. */
double rails_allowed_m(const gradin_model *model, double height_m);
/* Down to the millimetre: never more than leaves the focus whole. */
double rails_rounded_m(double height_m);

/* The seats from which a rail hides something, and those to which it leaves least to spare. */
typedef struct rails_sum {
    int n_seat, n_hidden; /* n_hidden: how many of them lose something */
    double hides_most;    /* fraction of the focus that it hides from the worst of them */
    double whole_m;       /* the highest top that hides nothing of any, INFINITY without seats */
} rails_sum;
rails_sum rails_sum_of(const gradin_model *model, const gradin_rail_limits *limits, int rail);

#endif
