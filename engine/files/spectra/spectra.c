/* Spectra of noise: a CSV file "band_hz,NAME,..." with one line per band and one column per
 * spectrum, or bands and levels one by one, such as 63=47. Thirds from 12.5 Hz to 20 kHz or octaves
 * from 16 Hz to 16 kHz, any run without a hole. */
#include "base/use.h"
#include "files/parse/cells.h"
#include "gradin/acoustics/spectrum.h"
#include "gradin/files.h"

#include <string.h>

enum { MAX_CSV_BYTES = 1 << 20 };
static const double LEAST_DB = -50.0, MOST_DB = 200.0;

/* Columns of the names, which the rows overwrite. */
typedef struct heads {
    int column[GRADIN_MAX_SPECTRUM];
} heads;

static int band_of(double hz) {
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++)
        if (hz == gradin_wide_nominal_hz(b)) return b;
    return -1;
}

static void clear(gradin_spectrum *spectrum) {
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++) spectrum->level_db[b] = NAN;
}

static bool are_octaves(const gradin_spectrum *spectrum) {
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++)
        if (!isnan(spectrum->level_db[b]) && b % 3 != 1) return false;
    return true;
}

/* Settles thirds or octaves; the first band of the run that is not given, -1 for none, or
 * GRADIN_N_WIDE_BAND when no band is given. */
static int find_hole(gradin_spectrum *spectrum) {
    int first = 0, last = GRADIN_N_WIDE_BAND - 1;
    while (first <= last && isnan(spectrum->level_db[first])) first++;
    if (first > last) return GRADIN_N_WIDE_BAND;
    while (isnan(spectrum->level_db[last])) last--;
    spectrum->is_octave = are_octaves(spectrum);
    for (int b = first; b <= last; b += spectrum->is_octave ? 3 : 1)
        if (isnan(spectrum->level_db[b])) return b;
    return -1;
}

static void check_run(reader *r, const gradin_place *at, gradin_spectrum *spectrum) {
    int hole = find_hole(spectrum);
    if (hole == GRADIN_N_WIDE_BAND)
        refuse(&r->c, at, "has no level");
    else if (hole >= 0)
        refuse(&r->c, at,
               "lacks the band %g Hz; any run of thirds or octaves without a hole is taken",
               gradin_wide_nominal_hz(hole));
}

static bool take_heads(reader *r, const cell_file *rows, heads *at) {
    int before = r->c.n_error, n = rows->n_name - 1;
    if (strcmp(rows->name[0], "band_hz") != 0)
        cells_complain(r, rows, 0, "the first column must be band_hz");
    if (n < 1 || n > GRADIN_MAX_SPECTRUM)
        refuse(&r->c, &(gradin_place){.file = rows->path, .line = 1, .column = 1},
               "has %d columns of levels; 1 to %d are taken", n, GRADIN_MAX_SPECTRUM);
    for (int i = 0; i < n && r->c.n_error == before; i++) {
        at->column[i] = rows->cell[i + 1].column;
        bool is_twice = false;
        for (int k = 0; k <= i; k++) is_twice |= strcmp(rows->name[k], rows->name[i + 1]) == 0;
        if (rows->name[i + 1][0] == '\0' || is_twice)
            cells_complain(r, rows, i + 1, "each column of levels needs a name of its own");
    }
    return r->c.n_error == before;
}

static void take_level(reader *r, const cell_file *rows, int index, int band,
                       gradin_spectrum *spectrum) {
    double level_db;
    const char *text = rows->cell[index].text;
    if (text[0] == '\0') return; /* not given */
    if (!gradin_parse_number(text, &level_db))
        cells_complain(r, rows, index, "'%s' is no number", text);
    else if (level_db < LEAST_DB || level_db > MOST_DB)
        cells_complain(r, rows, index, "is %s; a level lies between %g and %g dB", text, LEAST_DB,
                       MOST_DB);
    else
        spectrum->level_db[band] = level_db;
}

static int take_band(reader *r, const cell_file *rows, bool *is_taken) {
    double hz;
    const char *text = rows->cell[0].text;
    int band = gradin_parse_number(text, &hz) ? band_of(hz) : -1;
    if (band < 0)
        cells_complain(r, rows, 0, "'%s' is no nominal band from 12.5 to 20000 Hz, such as 31.5",
                       text);
    else if (is_taken[band])
        cells_complain(r, rows, 0, "band %s Hz stands twice", text);
    else
        is_taken[band] = true;
    return band;
}

static void take_rows(reader *r, cell_file *rows, gradin_spectrum *made) {
    bool is_taken[GRADIN_N_WIDE_BAND] = {false};
    while (cells_next(r, rows)) {
        int band = take_band(r, rows, is_taken);
        for (int i = 1; i < rows->n_cell && band >= 0; i++)
            take_level(r, rows, i, band, &made[i - 1]);
    }
}

static bool read_all(reader *r, const char *path, gradin_spectra *spectra) {
    cell_file *rows = alloc(&r->c, 1, sizeof *rows);
    heads at;
    if (!rows || !cells_open(r, NULL, path, MAX_CSV_BYTES, ',', rows) || !take_heads(r, rows, &at))
        return false;
    int n = rows->n_name - 1;
    gradin_spectrum *made = alloc(&r->c, n, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < n; i++) {
        made[i].name = rows->name[i + 1];
        clear(&made[i]);
    }
    take_rows(r, rows, made);
    bool is_read = r->c.n_error == 0;
    for (int i = 0; i < n && is_read; i++)
        check_run(
            r,
            &(gradin_place){.file = path, .line = 1, .column = at.column[i], .key = made[i].name},
            &made[i]);
    spectra->spectrum = made;
    spectra->n_spectrum = n;
    return true;
}

gradin_status gradin_spectra_read(gradin_arena *arena, const char *csv_path,
                                  gradin_spectra *spectra, gradin_error *error) {
    if (NEEDS(error, arena, csv_path, spectra) != GRADIN_OK) return GRADIN_BAD_USE;
    *spectra = (gradin_spectra){0};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = spectra->digest};
    const char *path = r.c.file = note_failure(&r.c, gradin_arena_copy_text(arena, csv_path));
    if (!path || !read_all(&r, path, spectra)) return complaints_status(&r.c);
    const char *slash = strrchr(path, '/');
    spectra->source = slash ? slash + 1 : path;
    return complaints_status(&r.c);
}

static void take_pair(reader *r, const char *pair, gradin_spectrum *made) {
    char hz_text[32];
    double hz, level_db;
    size_t length = strcspn(pair, "=");
    if (pair[length] != '=' || length >= sizeof hz_text) {
        refuse(&r->c, NULL, "'%s' is no BAND=LEVEL, such as 63=47; a CSV file stands alone", pair);
        return;
    }
    memcpy(hz_text, pair, length);
    hz_text[length] = '\0';
    int band = gradin_parse_number(hz_text, &hz) ? band_of(hz) : -1;
    if (band < 0)
        refuse(&r->c, NULL, "'%s': '%s' is no nominal band from 12.5 to 20000 Hz, such as 31.5",
               pair, hz_text);
    else if (!gradin_parse_number(pair + length + 1, &level_db) || level_db < LEAST_DB ||
             level_db > MOST_DB)
        refuse(&r->c, NULL, "'%s': a level is a number from %g to %g (dB)", pair, LEAST_DB,
               MOST_DB);
    else if (!isnan(made->level_db[band]))
        refuse(&r->c, NULL, "'%s': band %s Hz stands twice", pair, hz_text);
    else
        made->level_db[band] = level_db;
}

gradin_status gradin_spectrum_take(gradin_arena *arena, const char *const *pair, int n_pair,
                                   gradin_spectra *spectra, gradin_error *error) {
    if (NEEDS(error, arena, pair, spectra) != GRADIN_OK) return GRADIN_BAD_USE;
    *spectra = (gradin_spectra){.n_spectrum = 1};
    reader r = {.c = {.arena = arena, .error = error}};
    gradin_spectrum *made = alloc(&r.c, 1, sizeof *made);
    if (!made) return complaints_status(&r.c);
    clear(made);
    for (int i = 0; i < n_pair; i++) take_pair(&r, pair[i], made);
    if (r.c.n_error == 0) check_run(&r, NULL, made);
    spectra->spectrum = made;
    return complaints_status(&r.c);
}
