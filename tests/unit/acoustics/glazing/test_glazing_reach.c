/* How near to a source any prediction can come: by how much the published figures of like builds
 * differ, beside the error with which that source is foretold (test_glazing_left_out.c).
 *
 * Like are builds of as many layers, held alike as the engine takes the sources' words, glass
 * within a tenth in sum and gaps within a fifth. Octaves are held against octaves, the STC of
 * sealed windows against the STC of octaves. A prediction that is the same for both is on average
 * no nearer to the two than half of what they differ by. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glazing/published.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static const char *const group_name[N_GROUP] = {"one pane", "sealed unit", "double window"};

static double sum_m(const published *p, gradin_layer_kind kind) {
    double sum = 0.0;
    for (int i = 0; i < p->buildup.n_layer; i++)
        if (p->layer[i].kind == kind) sum += p->layer[i].thickness_m;
    return sum;
}

static bool is_within(double a, double b, double most) {
    return a <= most * b && b <= most * a;
}

static gradin_frames frames_of(const published *p) {
    gradin_buildup worded = p->buildup;
    worded.frames = p->worded;
    return gradin_glazing_frames(&worded);
}

static bool is_alike(const published *a, const published *b) {
    if (a->buildup.n_layer != b->buildup.n_layer || frames_of(a) != frames_of(b)) return false;
    if (a->buildup.has_lined_reveals != b->buildup.has_lined_reveals) return false;
    for (int i = 0; i < a->buildup.n_layer; i++)
        if (a->layer[i].kind != b->layer[i].kind) return false;
    return is_within(sum_m(a, GRADIN_LAYER_PLATE), sum_m(b, GRADIN_LAYER_PLATE), 1.1) &&
           is_within(sum_m(a, GRADIN_LAYER_GAP), sum_m(b, GRADIN_LAYER_GAP), 1.2);
}

/* STC as stated, or of the octaves, each for its three thirds. */
static double stc_of(const published *p) {
    double r_db[GRADIN_N_BAND] = {0.0};
    if (isfinite(p->stc)) return p->stc;
    for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) {
        if (!isfinite(p->r_db[o])) return NAN;
        for (int i = 0; i < 3; i++) r_db[3 * (o + PUBLISHED_FIRST_OCTAVE) + i] = p->r_db[o];
    }
    return published_stc(r_db);
}

/* Sums over pairs: of what the source states less what the other does, and without sign. */
typedef struct apart {
    int n_pair;
    double mean_db, mean_abs_db;
} apart;

/* Adds one pair by the mean over its octaves, or by STC; nothing when nothing compares. */
static void add(const published *a, const published *b, apart *to) {
    double sum = 0.0, sum_abs = 0.0;
    int n = 0;
    for (int o = 0; o < (a->source == SOURCE_SEALED ? 1 : PUBLISHED_N_OCTAVE); o++) {
        double d_db = a->source == SOURCE_SEALED ? stc_of(a) - stc_of(b) : a->r_db[o] - b->r_db[o];
        if (!isfinite(d_db)) continue;
        sum += d_db;
        sum_abs += fabs(d_db);
        n++;
    }
    if (n == 0) return;
    to->mean_db += sum / n;
    to->mean_abs_db += sum_abs / n;
    to->n_pair++;
}

/* Pairs of a build of the source's group with a like one, of another source or of the many hands
 * of a handbook. */
static apart compare(const published *all, int n, int source, int group) {
    apart found = {0};
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            const published *a = &all[i], *b = &all[j];
            if ((int)a->source != source || (int)published_group_of(a) != group) continue;
            if (i == j || (a->source == b->source && (a->source != SOURCE_BIES || j < i))) continue;
            if (is_alike(a, b)) add(a, b, &found);
        }
    if (found.n_pair > 0) found.mean_db /= found.n_pair, found.mean_abs_db /= found.n_pair;
    return found;
}

/* The error of a source and group in the table of what was left out. */
static double left_out_db(int source, int group) {
    char line[128], start[64];
    double mean_db = NAN;
    int builds;
    FILE *file = glass_csv_open("glazing/left-out.csv");
    snprintf(start, sizeof start, "%s,%s,", published_source_name[source], group_name[group]);
    while (fgets(line, sizeof line, file))
        if (strncmp(line, start, strlen(start)) == 0)
            cr_assert_eq(sscanf(line + strlen(start), "%d,%lf", &builds, &mean_db), 2);
    glass_csv_close(file);
    return mean_db;
}

Test(glazing_reach, what_sources_differ_by_stands_beside_the_error) {
    static published all[PUBLISHED_MOST];
    char word[32];
    double cell[GLASS_MAX_CELL];
    int n = published_read(all), n_row = 0;
    FILE *file = glass_csv_open("glazing/reach.csv");
    puts("source,group,pairs,sources_differ_db,above_the_others_db,left_out_db");
    for (int k = 0; k < N_SOURCE; k++)
        for (int g = 0; g < N_GROUP; g++) {
            apart found = compare(all, n, k, g);
            if (found.n_pair == 0) continue;
            double error_db = left_out_db(k, g);
            printf("%s,%s,%d,%.2f,%.2f,%.2f\n", published_source_name[k], group_name[g],
                   found.n_pair, found.mean_abs_db, found.mean_db, error_db);
            cr_expect_eq(glass_csv_row(file, cell, word), 6);
            cr_expect(cell[2] == found.n_pair && fabs(cell[3] - found.mean_abs_db) < 0.006 &&
                          fabs(cell[4] - found.mean_db) < 0.006 && fabs(cell[5] - error_db) < 0.006,
                      "%s, %s", published_source_name[k], group_name[g]);
            n_row++;
        }
    cr_expect_eq(glass_csv_row(file, cell, word), 0);
    cr_expect_geq(n_row, 4);
    glass_csv_close(file);
}
