/* files/layout_read.h: parts of reading a layout, one file each. Each fills a part of the layout
 * from what the file states. */
#ifndef GRADIN_FILES_LAYOUT_READ_H
#define GRADIN_FILES_LAYOUT_READ_H

#include "files/stated/layout.h"
#include "files/stated/noise.h"
#include "files/venue/read.h"

/* Reads a layout and its venue. False after errors. */
bool layout_read(reader *r, const char *path, gradin_venue *v, gradin_layout *p);
/* The venue that `at` names, beside the file being read. */
bool read_venue_beside(reader *r, const node *at, gradin_venue *v);
/* The brief and the overflight that `at` names. */
void read_brief_beside(reader *r, const node *at, gradin_form form, gradin_limits *limits,
                       gradin_criterion *criterion);
void read_pass_beside(reader *r, const node *at, const gradin_pass **found);

void fill_settings(reader *r, const stated_settings *s, const gradin_venue *v, gradin_layout *p);
void fill_blocks(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p);
/* Blocks, solids and rails of the rows of boxes, after those that stand by themselves. */
void fill_boxes(reader *r, const stated_layout *s, gradin_layout *p);
/* Scenery, once the venue's machines are known. */
void fill_scenery(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p);
/* The CSV files that blocks name, once all else is well. */
void fill_seat_lists(reader *r, const stated_layout *s, gradin_layout *p);
/* Blocks of the seat lists of other programs, after all others. */
void fill_imported(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p);
/* Sections from..to of the map `at` (keys from, to) by index. */
bool find_span(reader *r, const node *at, const gradin_venue *v, const char *from, const char *to,
               int *first, int *last);
bool pass_read(reader *r, const char *path, gradin_pass *pass);
/* The limits of a brief for a layout of this form. Complains of some that get stricter downwards.
 */
gradin_limits fill_limits(reader *r, const stated_brief *s, gradin_form form);
bool brief_read_file(reader *r, const char *path, gradin_form form, gradin_limits *limits,
                     gradin_criterion *criterion);

#endif
