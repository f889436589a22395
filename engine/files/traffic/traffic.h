/* files/traffic.h: reading a season of traffic. */
#ifndef GRADIN_FILES_TRAFFIC_H
#define GRADIN_FILES_TRAFFIC_H

#include "files/parse/changes.h"
#include "files/parse/rows.h"
#include "files/schema/read.h"
#include "files/schema/values.h"
#include "files/stated/noise.h"
#include "gradin/acoustics/traffic.h"

/* A source's directivity: a map with `groups` or a `file`. */
void fill_directivity(reader *r, const stated_directivity *s, gradin_directivity *directivity);

/* Levels of a source by third octave from its 21 thirds or its 7 octaves, in the map or a file; an
 * octave is spread evenly over its thirds. */
void fill_spectrum(reader *r, const node *at, const stated_spectrum *s, double *level_db,
                   bool *is_octave);

/* Classes and tracks must be there already. */
bool traffic_read_events(reader *r, const node *at, const char *path, bool skip_bad,
                         gradin_error *skipped, gradin_traffic *t);
bool fill_tracks(reader *r, const stated_traffic *s, gradin_traffic *t);
/* It moves, or has a bearing. */
bool traffic_has_heading(const gradin_track *track);

/* As it would be with other values in its files; `changes` may be NULL. */
gradin_status traffic_read_changed(gradin_arena *arena, const char *path, bool skip_bad,
                                   value_changes *changes, gradin_traffic *traffic,
                                   gradin_error *skipped, gradin_error *error);

#endif
