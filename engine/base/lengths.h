/* base/lengths.h: lengths as people read them, in the units of the layout or venue that they belong
 * to. The one place that knows how a foot is written. */
#ifndef GRADIN_BASE_LENGTHS_H
#define GRADIN_BASE_LENGTHS_H

#include "gradin/base.h"

/* A unit that lengths are shown in: value = length_m * per_m, with so many decimals. A name of ""
 * is no unit, as for shares. */
typedef struct length_unit {
    const char *name;
    double per_m;
    int decimals;
} length_unit;

/* `units` is "m" or "ft"; NULL and all else is metres. */
bool is_feet(const char *units);
/* Metres in one unit of a file's lengths. */
double unit_length_m(const char *units);
/* Of rooms, heights and distances: m or ft, with two decimals. */
length_unit length_unit_of(const char *units);
/* Of C-values, risers and gaps: mm without decimals, or in with one. */
length_unit small_unit_of(const char *units);
/* What a file states, such as a travel: m or ft with three decimals. */
length_unit stated_unit_of(const char *units);

enum { LENGTH_CHARS = 400 }; /* holds any number */

/* The number alone, as shown in the unit; "" for what is not finite. */
char *length_number(char out[LENGTH_CHARS], double length_m, length_unit unit);
/* With the unit's name, such as "5.25 ft" or "90 mm". */
char *length_text(char out[LENGTH_CHARS], double length_m, length_unit unit);

#endif
