/* Values by band from a CSV file as laboratories give them: "band_hz,r_db", one line per band, in
 * thirds from 50 Hz to 5 kHz or in octaves from 63 Hz to 4 kHz. A file whose bands are all octaves
 * is one of octaves; each octave's value then stands in its three thirds. */
#include "files/venue/read.h"

#include <string.h>

enum { MAX_CSV_BYTES = 1 << 20 };

static int band_of(double hz) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (hz == gradin_band_nominal_hz(b)) return b;
    return -1;
}

/* One line "band_hz,r_db". */
static void take_line(reader *r, const char *file, int number, char *line, double *r_db) {
    double hz, value;
    char *comma = strchr(line, ',');
    if (comma) *comma = '\0';
    if (!comma || !gradin_parse_number(line, &hz) || !gradin_parse_number(comma + 1, &value)) {
        complain_line(r, file, number, "needs two numbers: band_hz,r_db");
        return;
    }
    int band = band_of(hz);
    if (band < 0)
        complain_line(r, file, number, "band is no nominal one-third octave from 50 to 5000 Hz");
    else if (!isnan(r_db[band]))
        complain_line(r, file, number, "band stands twice");
    else if (value < -5.0 || value > 120.0)
        complain_line(r, file, number, "r_db must lie between -5 and 120 dB");
    else
        r_db[band] = value;
}

static void take_csv(reader *r, const char *file, char *bytes, double *r_db) {
    int number = 0;
    for (char *line = bytes, *next; line; line = next) {
        next = strchr(line, '\n');
        if (next) *next++ = '\0';
        line[strcspn(line, "\r")] = '\0';
        number++;
        if (number == 1 && strcmp(line, "band_hz,r_db") != 0)
            complain_line(r, file, 1, "the first line must be band_hz,r_db");
        if (number > 1 && line[0] != '\0') take_line(r, file, number, line, r_db);
    }
}

static bool is_octave_band(int band) {
    return band % 3 == 1;
}

static bool are_octaves(const double *r_db) {
    int n = 0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        if (isnan(r_db[b])) continue;
        if (!is_octave_band(b)) return false;
        n++;
    }
    return n > 0;
}

static void spread(double *r_db) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (!is_octave_band(b)) r_db[b] = r_db[3 * (b / 3) + 1];
}

bool read_band_values(reader *r, const node *at, const char *path, gradin_buildup *buildup) {
    char *bytes;
    size_t size;
    gradin_error reason = {0};
    gradin_status status =
        gradin_read_file(r->c.arena, path, MAX_CSV_BYTES, &bytes, &size, &reason);
    if (!was_read(r, at, path, status, &reason)) return false;
    reader_digest(r, bytes, size);
    for (int b = 0; b < GRADIN_N_BAND; b++) buildup->measured_r_db[b] = NAN;
    int before = r->c.n_error;
    take_csv(r, path, bytes, buildup->measured_r_db);
    buildup->is_measured = true;
    buildup->is_octave = are_octaves(buildup->measured_r_db);
    if (buildup->is_octave) spread(buildup->measured_r_db);
    return r->c.n_error == before;
}

static bool is_given(const gradin_buildup *buildup, int band) {
    return !isnan(buildup->measured_r_db[band]);
}

/* Octaves leave thirds between them open until they are spread. */
static bool find_hole(reader *r, const node *at, const char *path, const gradin_buildup *buildup,
                      int *first, int *last) {
    for (*first = 0; *first < GRADIN_N_BAND && !is_given(buildup, *first);) ++*first;
    for (*last = GRADIN_N_BAND - 1; *last > *first && !is_given(buildup, *last);) --*last;
    if (*first == GRADIN_N_BAND) {
        complain(r, at, "%s%shas no band", at ? path : "", at ? " " : "");
        return true;
    }
    for (int b = *first; b <= *last; b++)
        if (!is_given(buildup, b)) {
            int named = buildup->is_octave ? 3 * (b / 3) + 1 : b;
            complain(
                r, at,
                "%s%slacks the band %d Hz; any run of thirds or octaves without a hole is taken",
                at ? path : "", at ? " " : "", gradin_band_nominal_hz(named));
            return true;
        }
    return false;
}

/* What stands in for bands that a report has not; the values are worked out by
 * gradin_measured_fill(). */
static void note_run(reader *r, const char *path, const gradin_buildup *buildup, int first,
                     int last) {
    const char *name = buildup->name ? buildup->name : "";
    if (buildup->is_octave)
        add_note(&r->c,
                 print_text(&r->c,
                            "build-up %s: the octaves of %s stand for their three thirds each",
                            name, path));
    if (first == 0 && last == GRADIN_N_BAND - 1) return;
    add_note(&r->c,
             print_text(&r->c, "build-up %s: %s has %d to %d Hz; beyond them R %s", name, path,
                        gradin_band_nominal_hz(first), gradin_band_nominal_hz(last),
                        buildup->layer
                            ? "is predicted from the layers and moved to the nearest three bands"
                            : "stays as at the nearest band: a guess, give layers for a better "
                              "one"));
}

bool read_run(reader *r, const node *at, const char *path, gradin_buildup *buildup) {
    int first, last;
    return read_band_values(r, at, path, buildup) &&
           !find_hole(r, at, path, buildup, &first, &last);
}

void read_measured(reader *r, const node *at, const char *venue_file, gradin_buildup *buildup) {
    int first, last;
    char *path = gradin_path_beside(r->c.arena, venue_file, at->text);
    if (!note_failure(&r->c, path) || !read_band_values(r, at, path, buildup)) return;
    if (!find_hole(r, at, path, buildup, &first, &last)) note_run(r, path, buildup, first, last);
}
