/* venue/required.h: fields of a caller's structs that must be there. Each function tells of a field
 * by its whole name ("venue.tower[2].width_m") and is false when it is missing. */
#ifndef GRADIN_VENUE_REQUIRED_H
#define GRADIN_VENUE_REQUIRED_H

#include "venue/parts.h"

typedef struct owner {
    complaints *c;
    char name[96]; /* "venue", "layout.block[3]" */
} owner;

owner owner_of(complaints *c, const char *name);
owner owner_item(const owner *o, const char *list, int index);

bool need_text(const owner *o, const char *field, const char *text);
bool need_size(const owner *o, const char *field, double value);   /* finite, above 0 */
bool need_number(const owner *o, const char *field, double value); /* finite */
bool need_not_below(const owner *o, const char *field, double value, double least);
bool need_count(const owner *o, const char *field, int value, int least, int most);
bool need_index(const owner *o, const char *field, int value, int n);
/* `items` is there unless n is 0. */
bool need_list(const owner *o, const char *field, const void *items, int n);
bool need_range(const owner *o, const char *field, const double range[2]); /* ascending */
bool need_point(const owner *o, const char *field, gradin_vec2 point_m);
bool need_polygon(const owner *o, const char *field, gradin_polygon polygon);
bool need_bands(const owner *o, const char *field, const double band[GRADIN_N_BAND]);
bool need_solids(const owner *o, const gradin_solid *solid, int n);

#endif
