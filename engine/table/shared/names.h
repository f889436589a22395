/* table/shared/names.h: names that only tables print, and where a seat gets a name from. The other
 * English names are those of the public headers. */
#ifndef GRADIN_TABLE_NAMES_H
#define GRADIN_TABLE_NAMES_H

#include "gradin/studies.h"

const char *table_element_kind_name(gradin_element_kind kind);
/* "glass", "leaf", "seals", "opening", "vent" */
const char *table_part_name(const gradin_facade_part *part);
/* Column heading of a maximum inside, by time weighting: "lamax_open_dba", ... */
const char *table_maximum_key(gradin_time_weighting weighting, int state);
const char *table_shade_state_key(int state);  /* "as_set", "open", "shut" */
const char *table_shade_state_name(int state); /* "shades as set", ... */

/* Name of the occluder that hides most from a seat, NULL when nothing hides. */
const char *table_worst_occluder(const gradin_assessment *assessment, int seat);
/* Name of the element that brings most sound to a seat, NULL without noise. */
const char *table_loudest_element(const gradin_assessment *assessment, int seat);
/* The cause that hides most of the focus from a seat, -1 when nothing hides. */
int table_first_cause(const gradin_assessment *assessment, int seat);
/* Has the venue shades, so that open and shut differ? */
bool table_has_shades(const gradin_assessment *assessment);

#endif
