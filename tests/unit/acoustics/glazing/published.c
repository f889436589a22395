#include "unit/acoustics/glazing/published.h"

#include "gradin/acoustics/glazing.h"

#include <criterion/criterion.h>
#include <stdio.h>

const char *const published_source_name[N_SOURCE] = {"EN 12758", "Bies 2017", "Rossing 2014",
                                                     "Hopkins 2007", "sealed windows"};

static int add_pane(gradin_layer *layer, double thickness_mm, bool is_laminated) {
    layer[0] = glass_pane(is_laminated ? 0.5 * thickness_mm : thickness_mm);
    if (!is_laminated) return 1;
    layer[1] = glass_pvb(0.76);
    layer[2] = layer[0];
    return 3;
}

/* cell: outer mm, laminated, gap mm, inner mm, laminated. */
static void add_layers(published *p, const double *cell) {
    int n = add_pane(p->layer, cell[0], cell[1] != 0.0);
    if (cell[2] > 0.0) {
        p->layer[n++] = glass_air(cell[2]);
        n += add_pane(&p->layer[n], cell[3], cell[4] != 0.0);
    }
    p->buildup = (gradin_buildup){.name = p->name, .layer = p->layer, .n_layer = n};
    p->buildup.temperature_c = GRADIN_GLAZING_TEMPERATURE_C;
}

static void clear(published *p, published_source source) {
    *p = (published){.source = source, .stc = NAN, .rw = NAN};
    for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) p->r_db[o] = NAN;
    for (int b = 0; b < GRADIN_N_BAND; b++) p->third_db[b] = NAN;
}

/* build, five of layers, frames, lined, flush, six octaves, STC and, of Bies, frames as worded */
static int read_mounted(const char *file_name, published_source source, published *all) {
    double cell[GLASS_MAX_CELL];
    char word[32];
    int n = 0;
    FILE *file = glass_csv_open(file_name);
    for (int n_cell; (n_cell = glass_csv_row(file, cell, word)) >= 16; n++) {
        published *p = &all[n];
        clear(p, source);
        snprintf(p->name, sizeof p->name, "%s", word);
        add_layers(p, cell + 1);
        p->buildup.frames = (gradin_frames)cell[6];
        p->buildup.has_lined_reveals = cell[7] != 0.0;
        p->buildup.is_flush = cell[8] != 0.0;
        for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) p->r_db[o] = cell[9 + o];
        p->stc = cell[15];
        p->worded = n_cell > 16 ? (gradin_frames)cell[16] : p->buildup.frames;
    }
    glass_csv_close(file);
    return n;
}

/* outer mm, laminated, has gap, inner mm, laminated, six octaves, Rw, C, Ctr; 12 mm stands for gaps
 * of 6 to 16 mm. */
static int read_en_12758(published *all) {
    double cell[GLASS_MAX_CELL];
    char word[32];
    int n = 0;
    FILE *file = glass_csv_open("en-12758/values.csv");
    for (; glass_csv_row(file, cell, word) == 14; n++) {
        published *p = &all[n];
        bool has_gap = cell[2] != 0.0;
        clear(p, SOURCE_EN_12758);
        cell[2] = has_gap ? 12.0 : 0.0;
        add_layers(p, cell);
        const char *first = cell[1] != 0.0 ? " lam" : "", *last = cell[4] != 0.0 ? " lam" : "";
        if (has_gap)
            snprintf(p->name, sizeof p->name, "%g%s/12/%g%s", cell[0], first, cell[3], last);
        else
            snprintf(p->name, sizeof p->name, "%g%s", cell[0], first);
        for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) p->r_db[o] = cell[5 + o];
        p->rw = cell[11];
    }
    glass_csv_close(file);
    return n;
}

static int read_hopkins(published *p) {
    const double six[] = {6, 0, 0, 0, 0};
    double cell[GLASS_MAX_CELL];
    char word[32];
    clear(p, SOURCE_HOPKINS);
    add_layers(p, six);
    snprintf(p->name, sizeof p->name, "single 6");
    FILE *file = glass_csv_open("hopkins/fig-4-8.csv");
    while (glass_csv_row(file, cell, word) > 2)
        for (int b = 0; b < GRADIN_N_BAND; b++)
            if (gradin_band_nominal_hz(b) == (int)cell[1]) p->third_db[b] = cell[2];
    glass_csv_close(file);
    return 1;
}

int published_read(published *all) {
    int n = read_en_12758(all);
    n += read_mounted("bies-2017/glazing.csv", SOURCE_BIES, all + n);
    n += read_mounted("rossing-2014/glazing.csv", SOURCE_ROSSING, all + n);
    n += read_hopkins(all + n);
    n += read_mounted("sealed-windows/stc.csv", SOURCE_SEALED, all + n);
    cr_assert_leq(n, PUBLISHED_MOST);
    for (int i = 0; i < n; i++) all[i].buildup.layer = all[i].layer;
    return n;
}

published_group published_group_of(const published *p) {
    bool has_gap = false;
    for (int i = 0; i < p->buildup.n_layer; i++) has_gap |= p->layer[i].kind == GRADIN_LAYER_GAP;
    if (!has_gap) return GROUP_PANE;
    return gradin_glazing_frames(&p->buildup) == GRADIN_FRAMES_SPACER ? GROUP_UNIT : GROUP_DOUBLE;
}

void published_octaves_db(const double *r_db, double *octave_db) {
    for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) {
        double tau = 0.0;
        for (int i = 0; i < 3; i++)
            tau += pow(10.0, -0.1 * r_db[3 * (o + PUBLISHED_FIRST_OCTAVE) + i]) / 3.0;
        octave_db[o] = -10.0 * log10(tau);
    }
}

int published_stc(const double *r_db) {
    return gradin_stc(&r_db[4], NULL);
}

int published_differences(const published *p, const double *r_db, double *d_db) {
    double octave_db[PUBLISHED_N_OCTAVE];
    int n = 0;
    if (p->source == SOURCE_SEALED) {
        d_db[n++] = published_stc(r_db) - p->stc;
        return n;
    }
    published_octaves_db(r_db, octave_db);
    for (int o = 0; o < PUBLISHED_N_OCTAVE; o++)
        if (isfinite(p->r_db[o])) d_db[n++] = octave_db[o] - p->r_db[o];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (isfinite(p->third_db[b])) d_db[n++] = r_db[b] - p->third_db[b];
    return n;
}
