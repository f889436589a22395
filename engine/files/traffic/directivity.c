/* A source's directivity by groups of bands: angle from the direction of travel and dB on top of
 * the stated level, inline as `groups` or as CSV "from_hz,to_hz,angle_deg,gain_db". */
#include "files/traffic/traffic.h"

enum { MAX_ANGLE = 181, MAX_CSV_BYTES = 1 << 20 };

static const char header[] = "from_hz,to_hz,angle_deg,gain_db";
static const double least_db = -60.0, most_db = 40.0;

static int band_of(double hz) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (hz == gradin_band_nominal_hz(b)) return b;
    return -1;
}

/* What is wrong with the group, or NULL; from_hz and to_hz become its bands. */
static const char *set_bands(double from_hz, double to_hz, gradin_lobe *lobe) {
    int first = band_of(from_hz), last = band_of(to_hz);
    if (first < 0 || last < 0)
        return "from_hz and to_hz must be nominal one-third octaves from 50 to 5000 Hz";
    if (first > last) return "from_hz lies above to_hz";
    lobe->first_band = first;
    lobe->n_band = last - first + 1;
    return NULL;
}

static const char *check_angles(const gradin_lobe *lobe) {
    for (int i = 1; i < lobe->n_angle; i++)
        if (lobe->angle_deg[i] <= lobe->angle_deg[i - 1]) return "angles must rise";
    if (lobe->angle_deg[0] != 0.0 || lobe->angle_deg[lobe->n_angle - 1] != 180.0)
        return "angles must run from 0 to 180";
    return NULL;
}

static void check_cover(reader *r, const node *at, const gradin_directivity *d) {
    int count[GRADIN_N_BAND] = {0};
    for (int i = 0; i < d->n_lobe; i++)
        for (int k = 0; k < d->lobe[i].n_band; k++) count[d->lobe[i].first_band + k]++;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        if (count[b] == 1) continue;
        complain(r, at, "the band %d Hz is in %d groups; each band needs one",
                 gradin_band_nominal_hz(b), count[b]);
        return;
    }
}

static void fill_group(reader *r, const stated_lobe *s, gradin_lobe *lobe) {
    if (!s->at) return;
    lobe->n_angle = s->n_angle;
    lobe->angle_deg = s->angle_deg;
    lobe->gain_db = s->gain_db;
    if (s->n_gain != s->n_angle) {
        complain(r, map_get(s->at, "gain_db"), "has %d values; %d are needed", s->n_gain,
                 s->n_angle);
        return;
    }
    const char *wrong = set_bands(s->from_hz, s->to_hz, lobe);
    if (wrong) complain(r, s->at, "%s", wrong);
    wrong = check_angles(lobe);
    if (wrong) complain(r, map_get(s->at, "angle_deg"), "%s", wrong);
}

static void fill_groups(reader *r, const stated_directivity *s, gradin_directivity *d) {
    gradin_lobe *lobe = alloc(&r->c, s->n_lobe, sizeof *lobe);
    for (int i = 0; lobe && i < s->n_lobe; i++) fill_group(r, &s->lobe[i], &lobe[i]);
    if (!lobe || complaints_status(&r->c) != GRADIN_OK) return;
    *d = (gradin_directivity){lobe, s->n_lobe, d->is_mean_level};
    check_cover(r, map_get(s->at, "groups"), d);
}

typedef struct table {
    gradin_lobe lobe[GRADIN_N_BAND];
    double *angle_deg, *gain_db; /* of the last group; room for MAX_ANGLE */
    int n;
} table;

/* What is wrong with the row, or NULL. Rows of one group follow each other. */
static const char *take_row(reader *r, const row_file *rows, table *t) {
    double value[4];
    gradin_lobe made = {0};
    bool is_good = rows->is_whole;
    for (int i = 0; i < 4 && is_good; i++) is_good = gradin_parse_number(rows->cell[i], &value[i]);
    if (!is_good) return "needs four numbers: from_hz,to_hz,angle_deg,gain_db";
    if (value[2] < 0.0 || value[2] > 180.0) return "angle_deg must lie between 0 and 180";
    if (value[3] < least_db || value[3] > most_db) return "gain_db must lie between -60 and 40";
    const char *wrong = set_bands(value[0], value[1], &made);
    if (wrong) return wrong;
    gradin_lobe *last = t->n > 0 ? &t->lobe[t->n - 1] : NULL;
    if (!last || last->first_band != made.first_band || last->n_band != made.n_band) {
        if (t->n == GRADIN_N_BAND) return "begins one group too many";
        t->angle_deg = alloc(&r->c, MAX_ANGLE, sizeof *t->angle_deg);
        t->gain_db = alloc(&r->c, MAX_ANGLE, sizeof *t->gain_db);
        if (!t->angle_deg || !t->gain_db) return "out of memory";
        made.angle_deg = t->angle_deg;
        made.gain_db = t->gain_db;
        last = &t->lobe[t->n++];
        *last = made;
    }
    if (last->n_angle == MAX_ANGLE) return "a group has at most 181 angles";
    t->angle_deg[last->n_angle] = value[2];
    t->gain_db[last->n_angle++] = value[3];
    return NULL;
}

static void read_rows(reader *r, row_file *rows, table *t) {
    while (rows_next(rows)) {
        const char *wrong = take_row(r, rows, t);
        if (!wrong || r->c.failed != GRADIN_OK) continue;
        rows_complain(rows, r->c.error, "%s", wrong);
        r->c.n_error++;
    }
}

static void read_table(reader *r, const node *at, gradin_directivity *d) {
    row_file rows;
    table *t = alloc(&r->c, 1, sizeof *t);
    const char *path =
        t ? note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text)) : NULL;
    if (!path || !rows_open(r, at, path, MAX_CSV_BYTES, header, &rows)) return;
    read_rows(r, &rows, t);
    for (int i = 0; i < t->n && complaints_status(&r->c) == GRADIN_OK; i++) {
        const char *wrong = check_angles(&t->lobe[i]);
        if (wrong)
            complain(r, at, "%s, group from %d Hz: %s", path,
                     gradin_band_nominal_hz(t->lobe[i].first_band), wrong);
    }
    if (complaints_status(&r->c) != GRADIN_OK) return;
    *d = (gradin_directivity){t->lobe, t->n, d->is_mean_level};
    check_cover(r, at, d);
}

void fill_directivity(reader *r, const stated_directivity *s, gradin_directivity *directivity) {
    *directivity = (gradin_directivity){.is_mean_level = s->is_mean_level};
    if (!s->at) return;
    if (s->file)
        read_table(r, map_get(s->at, "file"), directivity);
    else
        fill_groups(r, s, directivity);
}
