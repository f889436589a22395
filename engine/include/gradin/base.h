/* gradin/base.h: status and error object, arena, units, vectors, bounded text, whole-file I/O.
 *
 * Every function that can fail returns a gradin_status; details go into a gradin_error that the
 * caller owns (NULL is allowed and keeps only the status). The library never prints, exits or
 * aborts. Lengths are metres, angles degrees where the name ends in _deg, bearings clockwise from
 * north, x east, y north, z up.
 *
 * Ownership and threads: An arena, an error object and what is allocated from an arena belong to
 * the caller, who uses each from one thread at a time; all else here may run in any thread. */
#ifndef GRADIN_BASE_H
#define GRADIN_BASE_H

#include "gradin/version.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

#define GRADIN_PI 3.14159265358979323846
#define GRADIN_FOOT_M 0.3048 /* international foot, exact by definition (ISO 80000-3 Annex C) */

/* Status and error object. */

typedef enum gradin_status {
    GRADIN_OK = 0,
    GRADIN_BAD_INPUT, /* a file or value that the user gave is wrong */
    GRADIN_BAD_USE,   /* a caller broke a function's contract */
    GRADIN_NO_MEMORY, /* an allocation failed */
    GRADIN_IO_FAILED, /* the file system refused */
    GRADIN_NUMERIC    /* a computation left the finite numbers */
} gradin_status;

/* A short English name of the family, never NULL. */
GRADIN_API const char *gradin_status_name(gradin_status status);

enum {
    GRADIN_MAX_DIAGNOSTIC = 20,
    GRADIN_FILE_CHARS = 256,
    GRADIN_KEY_CHARS = 160,
    GRADIN_TEXT_CHARS = 400
};

typedef struct gradin_diagnostic {
    gradin_status family;         /* GRADIN_OK: a note, no error */
    char file[GRADIN_FILE_CHARS]; /* "" when no file is concerned */
    int line, column;             /* 1-based; 0 when unknown */
    char key[GRADIN_KEY_CHARS];   /* dotted path such as blocks[2].straight.rows, or "" */
    char text[GRADIN_TEXT_CHARS]; /* what is wrong; what is allowed */
} gradin_diagnostic;

/* A list of diagnostics with no heap of its own. Zero-initialise, or gradin_error_clear(). */
typedef struct gradin_error {
    int n_diagnostic; /* how many are kept, at most GRADIN_MAX_DIAGNOSTIC */
    int n_dropped;    /* how many more there were */
    gradin_diagnostic diagnostic[GRADIN_MAX_DIAGNOSTIC];
} gradin_error;

/* Where a value stands in a file. All pointers may be NULL. */
typedef struct gradin_place {
    const char *file;
    int line, column;
    const char *key;
} gradin_place;

GRADIN_API void gradin_error_clear(gradin_error *error);

/* Adds one diagnostic (place may be NULL, error may be NULL) and returns family, so that a caller
 * can write `return gradin_error_add(...)`. */
GRADIN_API gradin_status gradin_error_add(gradin_error *error, gradin_status family,
                                          const gradin_place *place, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Writes "file:line:column: key: text" (parts that are unknown are left out) into out[size]. */
GRADIN_API void gradin_diagnostic_format(const gradin_diagnostic *diagnostic, char *out,
                                         size_t size);

/* Arena. */

/* Owns every block allocated from it; destroying it frees them all. Not thread-safe. */
typedef struct gradin_arena gradin_arena;

GRADIN_API gradin_arena *gradin_arena_create(void); /* NULL when out of memory */
GRADIN_API void gradin_arena_destroy(gradin_arena *arena);

/* count*size zeroed bytes aligned to 64; NULL on overflow or when out of memory. count 0 gives a
 * valid pointer that must not be read. */
GRADIN_API void *gradin_arena_alloc(gradin_arena *arena, size_t count, size_t size);

/* A copy of text (NULL gives NULL with no error). */
GRADIN_API char *gradin_arena_copy_text(gradin_arena *arena, const char *text);

/* A printf into the arena; NULL when out of memory. */
GRADIN_API char *gradin_arena_print(gradin_arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Makes room for one more item of item_size in the array *items holding count items, capacity
 * *capacity (doubled when full; the old block stays in the arena). Returns GRADIN_OK or
 * GRADIN_NO_MEMORY, then *items is unchanged. */
GRADIN_API gradin_status gradin_arena_grow(gradin_arena *arena, void **items, int count,
                                           int *capacity, size_t item_size);

/* Parts of a work that know nothing of each other, in threads. */

/* Part i, with an arena and an error object for this part alone. */
typedef gradin_status (*gradin_part_work)(void *user, int i, gradin_arena *arena,
                                          gradin_error *error);

/* Does parts 0 to n - 1. `arena` then has all that they allocated. Returns the status of the first
 * part by number that failed; diagnostics come in the order of the parts, up to that one's. */
GRADIN_API gradin_status gradin_for_each(gradin_arena *arena, int n, gradin_part_work work,
                                         void *user, gradin_error *error);

/* Units and angles. */

static inline double gradin_rad(double angle_deg) {
    return angle_deg * (GRADIN_PI / 180.0);
}
static inline double gradin_deg(double angle_rad) {
    return angle_rad * (180.0 / GRADIN_PI);
}
/* angle folded into [0, 360). */
GRADIN_API double gradin_wrap_360_deg(double angle_deg);
/* smallest unsigned angle between two bearings, [0, 180]. */
GRADIN_API double gradin_bearing_gap_deg(double a_deg, double b_deg);

/* Vectors. */

typedef struct gradin_vec2 {
    double x, y;
} gradin_vec2;

typedef struct gradin_vec3 {
    double x, y, z;
} gradin_vec3;

static inline gradin_vec3 gradin_add(gradin_vec3 a, gradin_vec3 b) {
    gradin_vec3 sum = {a.x + b.x, a.y + b.y, a.z + b.z};
    return sum;
}
static inline gradin_vec3 gradin_sub(gradin_vec3 a, gradin_vec3 b) {
    gradin_vec3 difference = {a.x - b.x, a.y - b.y, a.z - b.z};
    return difference;
}
static inline gradin_vec3 gradin_scale(gradin_vec3 a, double s) {
    gradin_vec3 scaled = {a.x * s, a.y * s, a.z * s};
    return scaled;
}
static inline double gradin_dot(gradin_vec3 a, gradin_vec3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
static inline double gradin_norm(gradin_vec3 a) {
    return sqrt(gradin_dot(a, a));
}
static inline gradin_vec3 gradin_cross(gradin_vec3 a, gradin_vec3 b) {
    gradin_vec3 cross = {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    return cross;
}
/* unit vector on plan of a bearing: 0 is +y (north), 90 is +x (east). */
GRADIN_API gradin_vec2 gradin_bearing_unit(double bearing_deg);
/* bearing of the direction (dx, dy), [0, 360); 0 for the null vector. */
GRADIN_API double gradin_bearing_deg(double dx, double dy);
/* The point on plan turned clockwise about another. */
GRADIN_API gradin_vec2 gradin_turned(gradin_vec2 at, gradin_vec2 pivot, double clockwise_deg);

/* Text and files. */

/* Parses the whole of text as a finite decimal number with '.', whatever the locale; leading and
 * trailing text, hex, nan, inf and overflow are refused. */
GRADIN_API bool gradin_parse_number(const char *text, double *value);

/* Writes value with a fixed count of decimals and '.', whatever the locale; "-0.0" becomes "0.0";
 * a value that is not finite gives "". Returns out. */
GRADIN_API char *gradin_format_fixed(char *out, size_t size, double value, int decimals);

/* Edit distance: letters to put in, take out, change, or swap with their neighbour (optimal string
 * alignment), capitals alike. Texts over 63 characters give 64. */
GRADIN_API int gradin_edit_distance(const char *a, const char *b);

/* The one of names[n_name] for which `name` may be a slip, for "did you mean". Its index; -1 when
 * none is near. */
GRADIN_API int gradin_nearest_name(const char *name, const char *const *names, int n_name);

/* Reads a whole file (at most max_bytes) into the arena with a terminating NUL that *size does not
 * count, less a leading UTF-8 byte order mark. GRADIN_BAD_INPUT when it cannot be opened, is no
 * regular file, is too long or holds a zero byte. */
GRADIN_API gradin_status gradin_read_file(gradin_arena *arena, const char *path, size_t max_bytes,
                                          char **bytes, size_t *size, gradin_error *error);
/* The same for a file that is no text: every byte as it is. */
GRADIN_API gradin_status gradin_read_bytes(gradin_arena *arena, const char *path, size_t max_bytes,
                                           char **bytes, size_t *size, gradin_error *error);

/* Writes to a temporary name in the same folder, fsyncs, renames: a reader sees the old file or the
 * new one. GRADIN_IO_FAILED leaves nothing behind. */
GRADIN_API gradin_status gradin_write_file(const char *path, const void *bytes, size_t size,
                                           gradin_error *error);

/* The same from several pieces, one after the other. */
typedef struct gradin_bytes {
    const void *at;
    size_t size;
} gradin_bytes;
GRADIN_API gradin_status gradin_write_parts(const char *path, const gradin_bytes *part, int n_part,
                                            gradin_error *error);

/* Path of `name` seen from the folder of file `base` (absolute names stay); in the arena. */
GRADIN_API char *gradin_path_beside(gradin_arena *arena, const char *base, const char *name);

/* The other way round: `path` (as the program sees it) written as a file in the folder of `base`
 * would name it. NULL when either is not there or out of memory (errno is then ENOMEM). */
GRADIN_API char *gradin_path_from(gradin_arena *arena, const char *base, const char *path);

#ifdef __cplusplus
}
#endif

#endif
