/* files/venue_read.h: parts of reading a venue, one file each. */
#ifndef GRADIN_FILES_VENUE_READ_H
#define GRADIN_FILES_VENUE_READ_H

#include "files/walk.h"
#include "gradin/venue.h"
#include "venue/parts.h"

extern const char *const rail_kind_names[]; /* NULL-ended */

/* The whole venue, complete and checked. False after a complaint. */
bool venue_read(reader *r, const char *path, gradin_venue *v);
void venue_read_room(reader *r, const node *room, gradin_venue *v);
void venue_read_facade(reader *r, const node *facade, gradin_venue *v);
void venue_read_machines(reader *r, const node *machines, gradin_venue *v);
void venue_read_crew(reader *r, const node *at, gradin_venue *v);
/* The map `loads`. */
void venue_read_loads(reader *r, const node *at, gradin_venue *v);
/* Once the machines are listed. */
void venue_read_interlocks(reader *r, const node *list, gradin_venue *v);

/* `at` is the map `drive` or NULL; drive keeps what is not stated. */
void read_drive(reader *r, const node *at, gradin_drive *drive);
/* Of a thing whose time from end to end is stated: its acceleration is in it. */
void read_share_drive(reader *r, const node *at, gradin_drive *drive);
/* The map `load_limit`, NULL when not stated. */
void read_load_limit(reader *r, const node *at, gradin_load_limit *limit);
void read_payload(reader *r, const node *at, gradin_tower *t);
/* Complains of a rail lower than the venue's own local rules allow. */
void refuse_low_rail(reader *r, const node *at, double height_m, double rail_min_m);

/* Six octaves 125..4000 Hz spread to the 21 thirds: each third takes its octave's value, those
 * below 100 Hz that of 125 Hz, 5 kHz that of 4 kHz. */
void spread_octaves(const double octave[6], double band[GRADIN_N_BAND]);
/* Reads key of map as 6 octaves or 21 thirds. False when missing (and required) or wrong. */
bool read_spectrum(reader *r, const node *map, const char *key, bool is_required, double least,
                   double most, double band[GRADIN_N_BAND]);
/* Solids are the same in venue and layout. */
bool read_solids(reader *r, const node *list, const gradin_solid **solid, int *n_solid);
/* band_values.c: the file's values into measured_r_db, NAN where it has none. False after a
 * complaint. read_measured() wants every band. */
bool read_band_values(reader *r, const node *at, const char *path, gradin_buildup *buildup);
void read_measured(reader *r, const node *at, const char *venue_file, gradin_buildup *buildup);
/* Build-ups that state no temperature of their own take this one. */
bool read_buildups(reader *r, const node *list, const char *file, double temperature_c,
                   const gradin_buildup **buildup, int *n_buildup);
/* layers.c: 1 to `most` layers from the outside in. */
void read_layers(reader *r, const node *list, int most, const gradin_layer **layer, int *n_layer);

/* names.c. Index of the item that `at` names; complains with a suggestion when there is none. Items
 * are as for index_of(). */
int look_up(reader *r, const node *at, const char *what, const void *items, int n, size_t stride);
/* Complains when two items of the list have the same name. */
void check_names(reader *r, const node *list, const void *items, int n, size_t stride);

#endif
