/* A source's spectrum: 21 thirds or 7 octaves, inline or as CSV "band_hz,level_db". The level of an
 * octave is shared evenly by its thirds: each has 10 lg 3 dB less. */
#include "files/traffic/traffic.h"

#include <string.h>

enum { MAX_SPECTRUM_BYTES = 1 << 16 };

static const char header[] = "band_hz,level_db";
static const double least_db = -50.0, most_db = 180.0;

/* What is wrong with the count, or NULL. */
static const char *spread(const double *value, int n, double *level_db, bool *is_octave) {
    *is_octave = n == GRADIN_N_OCTAVE;
    if (n != GRADIN_N_OCTAVE && n != GRADIN_N_BAND)
        return "needs 21 thirds 50-5000 Hz or 7 octaves 63-4000 Hz";
    for (int b = 0; b < GRADIN_N_BAND; b++)
        level_db[b] = *is_octave ? value[b / 3] - 10.0 * log10(3.0) : value[b];
    return NULL;
}

/* Bands must follow each other as thirds from 50 Hz, or as octaves from 63 Hz. */
static int wanted_hz(const double *first_hz, int n) {
    bool is_octave = *first_hz == gradin_band_nominal_hz(1);
    int band = is_octave ? 3 * n + 1 : n;
    return band < GRADIN_N_BAND ? gradin_band_nominal_hz(band) : 0;
}

static const char *take_row(const row_file *rows, double *first_hz, double *value, int *n) {
    double cell[2];
    bool is_good = rows->is_whole;
    for (int i = 0; i < 2 && is_good; i++) is_good = gradin_parse_number(rows->cell[i], &cell[i]);
    if (!is_good) return "needs two numbers: band_hz,level_db";
    if (*n == 0) *first_hz = cell[0];
    if (cell[0] != wanted_hz(first_hz, *n))
        return "bands must be the thirds from 50 to 5000 Hz, or the octaves from 63 to 4000 Hz, "
               "in order";
    if (cell[1] < least_db || cell[1] > most_db) return "level_db must lie between -50 and 180";
    value[(*n)++] = cell[1];
    return NULL;
}

static void read_rows(reader *r, const node *at, row_file *rows, double *level_db,
                      bool *is_octave) {
    double value[GRADIN_N_BAND], first_hz = 0.0;
    const char *wrong = NULL;
    int n = 0;
    while (!wrong && rows_next(rows)) wrong = take_row(rows, &first_hz, value, &n);
    if (wrong) {
        rows_complain(rows, r->c.error, "%s", wrong);
        r->c.n_error++;
        return;
    }
    wrong = spread(value, n, level_db, is_octave);
    if (wrong) complain(r, at, "%s: %s", rows->path, wrong);
}

void fill_spectrum(reader *r, const node *at, const stated_spectrum *s, double *level_db,
                   bool *is_octave) {
    row_file rows;
    if (!s->file && !s->level_db) return; /* complained of already */
    if (!s->file) {
        const char *wrong = spread(s->level_db, s->n_level, level_db, is_octave);
        if (wrong) complain(r, map_get(at, "level_db"), "%s", wrong);
        return;
    }
    const node *file = map_get(at, "level_file");
    const char *path = note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, s->file));
    if (path && rows_open(r, file, path, MAX_SPECTRUM_BYTES, header, &rows))
        read_rows(r, file, &rows, level_db, is_octave);
}
