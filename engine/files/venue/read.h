/* files/venue_read.h: parts of reading a venue, one file each. Each fills a part of the venue from
 * what the file states, and complains of what does not fit together. */
#ifndef GRADIN_FILES_VENUE_READ_H
#define GRADIN_FILES_VENUE_READ_H

#include "base/lookup.h"
#include "files/schema/read.h"
#include "files/schema/values.h"
#include "files/stated/venue.h"
#include "gradin/venue.h"

/* Counts what another function of the library found and told. */
void take_status(reader *r, gradin_status status);
/* The whole venue, complete and checked. False after a complaint. */
bool venue_read(reader *r, const char *path, gradin_venue *v);
/* shelf.c: the same, or the venue of that path as it was read before with the reader's shelf. */
typedef struct shelf {
    struct shelved *first;
} shelf;
bool venue_read_once(reader *r, const char *path, gradin_venue *v);
/* Entries of machines.lifts and .towers with a `kind` get what they leave out; false after a
 * complaint. */
bool apply_kinds(reader *r, const node *root);
void fill_room(reader *r, const stated_room *s, gradin_venue *v);
void fill_facade(reader *r, const stated_facade *s, gradin_venue *v);
void fill_machines(reader *r, const stated_machines *s, gradin_venue *v);
void fill_crew(reader *r, const stated_crew *s, gradin_venue *v);
void fill_loads(const stated_loads *s, gradin_venue *v);
/* The machines that a text names: a machine, a whole grid, or sections FROM..TO; [n]. Complains of
 * a name that is none. */
int *find_machines(reader *r, const node *at, const gradin_venue *v, int *n);
/* Once the machines are listed. */
void fill_interlocks(reader *r, const stated_machines *s, gradin_venue *v);

/* A drive at this speed; mass_kg where the file states none. */
gradin_drive drive_stated(const gradin_drive *stated, double speed_per_s, double mass_kg);
/* Solids are the same in venue and layout. */
void fill_solids(reader *r, const stated_solid *s, int n, const gradin_solid **solid, int *n_solid);
/* band_values.c: the file's values into measured_r_db, NAN where it has none. False after a
 * complaint. read_measured() wants a run of bands without a hole. */
bool read_band_values(reader *r, const node *at, const char *path, gradin_buildup *buildup);
/* The same, refusing holes between the bands. */
bool read_run(reader *r, const node *at, const char *path, gradin_buildup *buildup);
void read_measured(reader *r, const node *at, const char *venue_file, gradin_buildup *buildup);
/* Build-ups that state no temperature of their own take this one. */
void fill_buildups(reader *r, const stated_facade *s, gradin_venue *v);
/* layers.c: from the outside in. */
void fill_layers(reader *r, const stated_layer *s, int n, const gradin_layer **layer, int *n_layer);

/* names.c. Index of the item that `at` names; complains with a suggestion when there is none. Items
 * are as for index_of(). */
int look_up(reader *r, const node *at, const char *what, const void *items, int n, size_t stride);

#endif
