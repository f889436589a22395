/* files/schema/values.h: single values of a file, each with its complaint. */
#ifndef GRADIN_FILES_VALUES_H
#define GRADIN_FILES_VALUES_H

#include "files/schema/schema.h"

/* Child by key, or NULL. */
const node *map_get(const node *map, const char *key);
/* Complains that a name is unknown, with the nearest of names[n] as a suggestion. */
void complain_unknown(reader *r, const node *at, const char *what, const char *name,
                      const char *const *names, int n_name);
/* Complains when the node is not of this kind. */
bool value_is_kind(reader *r, const node *at, node_kind kind);
/* The values below keep to the limits of the key; numbers become what the library computes with. */
bool value_number(reader *r, const node *at, const schema_key *key, double *out);
bool value_integer(reader *r, const node *at, const schema_key *key, int *out);
bool value_text(reader *r, const node *at, const char **out);
bool value_flag(reader *r, const node *at, const schema_key *key, bool *out);
bool value_choice(reader *r, const node *at, const schema_key *key, int *out);
bool value_name(reader *r, const node *at, const char **out);
bool value_file(reader *r, const node *at, const schema_key *key, const char **out);
bool value_clock(reader *r, const node *at, const char **out);
/* Midnight of a map's day YYYY-MM-DD; 0 where text is NULL, and after a complaint. */
int64_t day_under(reader *r, const node *map, const char *key, const char *text);
/* Second of the day of a text that value_clock() took. */
int clock_s(const char *text);
/* A note, once a file, that a word of a key or value has another name now. */
void note_old_word(reader *r, const char *what, const char *old, const char *now);

/* A list of n_least to n_most items of `key`. */
bool value_count(reader *r, const node *list, const schema_key *key);
/* Lists of numbers; out has room for all. */
bool value_numbers(reader *r, const node *list, const schema_key *key, double *out);
bool value_range(reader *r, const node *at, const schema_key *key, double *out);
bool value_spectrum(reader *r, const node *at, const schema_key *key, double *out);
bool value_point(reader *r, const node *at, const schema_key *key, gradin_vec2 *out);
bool value_points(reader *r, const node *list, const schema_key *key, gradin_vec2 **point,
                  int *n_point);
bool value_polygon(reader *r, const node *at, const schema_key *key, gradin_polygon *out);

/* Lists into a new array and its count, members of *item. */
bool list_numbers(reader *r, const node *at, const schema_key *key, char *item);
bool list_choices(reader *r, const node *at, const schema_key *key, char *item);
bool list_names(reader *r, const node *at, const schema_key *key, char *item);
bool list_points(reader *r, const node *at, const schema_key *key, char *item);

/* Six octaves 125..4000 Hz spread to the 21 thirds: each third takes its octave's value, those
 * below 100 Hz that of 125 Hz, 5 kHz that of 4 kHz. */
void octaves_to_thirds(const double octave[6], double band[GRADIN_N_BAND]);

#endif
