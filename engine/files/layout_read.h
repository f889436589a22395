/* files/layout_read.h: parts of reading a layout, one file each. */
#ifndef GRADIN_FILES_LAYOUT_READ_H
#define GRADIN_FILES_LAYOUT_READ_H

#include "files/venue_read.h"
#include "gradin/layout.h"

/* Reads a layout and its venue. False after errors. */
bool layout_read(reader *r, const char *path, gradin_venue *v, gradin_layout *p);
/* The venue that `at` names, beside the file being read. */
bool read_venue_beside(reader *r, const node *at, gradin_venue *v);

/* machines may be NULL: everything stays where it is parked. */
void layout_read_machines(reader *r, const node *machines, const gradin_venue *v, gradin_layout *p);
void layout_read_blocks(reader *r, const node *list, const gradin_venue *v, gradin_layout *p);
/* The CSV files that blocks name, once all else is well. */
void layout_read_seat_lists(reader *r, const node *blocks, gradin_layout *p);
/* Sections from..to of `at` (keys from, to) by index. */
bool read_span(reader *r, const node *at, const gradin_venue *v, const char *from, const char *to,
               int *first, int *last);
/* The map audience.population. */
void population_read(reader *r, const node *at, gradin_population *p);
bool pass_read(reader *r, const char *path, gradin_pass *pass);
/* Thresholds of a brief: the map under `brief` in a layout, or the root of a brief file. */
void brief_read_map(reader *r, const node *map, gradin_limits *limits, gradin_criterion *criterion);
bool brief_read_file(reader *r, const char *path, gradin_limits *limits,
                     gradin_criterion *criterion);

#endif
