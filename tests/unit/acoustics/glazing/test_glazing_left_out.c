/* How well the theory of glazing foretells what no value of it was chosen on.
 *
 * Four values of mounting.c are chosen among a few each: from the smallest sum, over the sources,
 * of each source's mean absolute error. Each source is left out in turn, the values chosen on the
 * others, and the source's error printed: that is the error of a prediction, and what
 * gradin_glazing_uncertainty() hands on. The printed tables are kept in reference/glazing and
 * quoted by README.md. */
#include "gradin/glazing.h"
#include "unit/acoustics/glazing/published.h"

#include <criterion/criterion.h>
#include <stdio.h>

enum { N_KNEE = 3, N_REVEAL = 3, N_COUPLING = 4, N_CAP = 4 };
enum { N_CHOICE = N_KNEE * N_REVEAL * N_COUPLING * N_CAP };

static const double knee[N_KNEE] = {0.7, 1.0, 1.4}, reveal[N_REVEAL] = {0.05, 0.1, 0.2};
static const double coupling[N_COUPLING] = {0.06, 0.09, 0.12, 0.16};
static const double most[N_CAP] = {0.1, 0.15, 0.2, 0.3};

typedef struct study {
    int n;
    published all[PUBLISHED_MOST];
    /* tau through the layers, and what goes over the frames at a share of 1 */
    double direct[N_KNEE][N_REVEAL][PUBLISHED_MOST][GRADIN_N_BAND];
    double held[N_KNEE][PUBLISHED_MOST][GRADIN_N_BAND];
    double mean_db[N_CHOICE][PUBLISHED_MOST]; /* absolute */
} study;

static study s;

static void split(int choice, int *at) {
    at[0] = choice % N_KNEE;
    at[1] = choice / N_KNEE % N_REVEAL;
    at[2] = choice / (N_KNEE * N_REVEAL) % N_COUPLING;
    at[3] = choice / (N_KNEE * N_REVEAL * N_COUPLING);
}

static double gap_m(const published *p) {
    for (int i = 0; i < p->buildup.n_layer; i++)
        if (p->layer[i].kind == GRADIN_LAYER_GAP) return p->layer[i].thickness_m;
    return 0.0;
}

static void predict(int i) {
    published *p = &s.all[i];
    glazing_stack stack;
    glazing_method method = gradin_glazing_mounted(&p->buildup, gradin_glazing_sample());
    bool has_gap = gap_m(p) > 0.0,
         is_joined = has_gap && gradin_glazing_frames(&p->buildup) != GRADIN_FRAMES_SEPARATE;
    double lateral_pasm2 = method.lateral_pasm2;
    cr_assert_eq(gradin_glazing_stack(&p->buildup, &stack, NULL), GRADIN_OK);
    for (int k = 0; k < N_KNEE; k++)
        for (int a = 0; a < N_REVEAL; a++)
            for (int b = 0; b < GRADIN_N_BAND; b++) {
                double f_hz = gradin_band_mid_hz(b);
                if (a > 0 && (!has_gap || p->buildup.has_lined_reveals)) {
                    s.direct[k][a][i][b] = s.direct[k][0][i][b];
                    continue;
                }
                method.mount_knee = knee[k];
                method.coupling = 0.0;
                if (!p->buildup.has_lined_reveals)
                    method.lateral_pasm2 = lateral_pasm2 * reveal[a] / 0.1;
                s.direct[k][a][i][b] = gradin_glazing_tau_band(&stack, &method, f_hz);
                if (a > 0 || !is_joined) continue;
                method.coupling = INFINITY;
                method.coupling_most = 1.0;
                s.held[k][i][b] =
                    gradin_glazing_tau_band(&stack, &method, f_hz) - s.direct[k][a][i][b];
            }
}

static void curve(int choice, int i, double *r_db) {
    int at[4];
    split(choice, at);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = s.direct[at[0]][at[1]][i][b];
        double k_radm = 2.0 * GRADIN_PI * gradin_band_mid_hz(b) / GRADIN_AIR_SPEED_MS;
        if (s.held[at[0]][i][b] > 0.0)
            tau += fmin(coupling[at[2]] / (k_radm * gap_m(&s.all[i])), most[at[3]]) *
                   s.held[at[0]][i][b];
        r_db[b] = -10.0 * log10(fmin(tau, 1.0));
    }
}

static int differences(int choice, int i, double *d_db) {
    double r_db[GRADIN_N_BAND];
    curve(choice, i, r_db);
    return published_differences(&s.all[i], r_db, d_db);
}

static void study_make(void) {
    double d_db[GRADIN_N_BAND];
    if (s.n > 0) return;
    s.n = published_read(s.all);
    for (int i = 0; i < s.n; i++) predict(i);
    for (int c = 0; c < N_CHOICE; c++)
        for (int i = 0; i < s.n; i++) {
            int n = differences(c, i, d_db);
            s.mean_db[c][i] = 0.0;
            for (int k = 0; k < n; k++) s.mean_db[c][i] += fabs(d_db[k]) / n;
        }
}

/* The choice of the smallest sum over the sources but one; N_SOURCE leaves none out. */
static int choose(int left_out) {
    int best = 0;
    double least = INFINITY;
    for (int c = 0; c < N_CHOICE; c++) {
        double sum[N_SOURCE] = {0}, total = 0.0;
        int count[N_SOURCE] = {0};
        for (int i = 0; i < s.n; i++) {
            sum[s.all[i].source] += s.mean_db[c][i];
            count[s.all[i].source]++;
        }
        for (int k = 0; k < N_SOURCE; k++)
            if (k != left_out) total += sum[k] / count[k];
        if (total < least - 1e-9) least = total, best = c;
    }
    return best;
}

/* Mean absolute and mean error of a source's group, or of all groups with N_GROUP. */
static int error_of(int choice, int source, int group, double *mean_db, double *bias_db) {
    int n_case = 0, n = 0;
    double d_db[GRADIN_N_BAND];
    *mean_db = *bias_db = 0.0;
    for (int i = 0; i < s.n; i++) {
        if ((int)s.all[i].source != source) continue;
        if (group != N_GROUP && (int)published_group_of(&s.all[i]) != group) continue;
        int m = differences(choice, i, d_db);
        for (int k = 0; k < m; k++) *mean_db += fabs(d_db[k]), *bias_db += d_db[k];
        n += m;
        n_case++;
    }
    if (n > 0) *mean_db /= n, *bias_db /= n;
    return n_case;
}

static const char *const group_name[N_GROUP + 1] = {"one pane", "sealed unit", "double window",
                                                    "all"};

/* The kept table must be what this run finds: source, group, builds, mean absolute, mean. */
Test(glazing_left_out, is_what_readme_quotes) {
    char word[32];
    double cell[GLASS_MAX_CELL];
    study_make();
    FILE *file = glass_csv_open("glazing/left-out.csv");
    puts("source,group,builds,mean_abs_db,mean_db");
    for (int k = 0; k < N_SOURCE; k++)
        for (int g = 0; g <= N_GROUP; g++) {
            double mean_db, bias_db;
            int n = error_of(choose(k), k, g, &mean_db, &bias_db);
            if (n == 0) continue;
            printf("%s,%s,%d,%.2f,%.2f\n", published_source_name[k], group_name[g], n, mean_db,
                   bias_db);
            cr_expect_eq(glass_csv_row(file, cell, word), 5);
            cr_expect(cell[2] == n && fabs(cell[3] - mean_db) < 0.006 &&
                          fabs(cell[4] - bias_db) < 0.006,
                      "%s, %s", published_source_name[k], group_name[g]);
        }
    cr_expect_eq(glass_csv_row(file, cell, word), 0);
    glass_csv_close(file);
}

/* The engine's four values are the choice on all sources. */
Test(glazing_left_out, the_engine_uses_the_choice_on_all) {
    int at[4];
    study_make();
    for (int k = 0; k <= N_SOURCE; k++) {
        split(choose(k), at);
        printf("without %s: knee %g, bare reveals %g, coupling %g, at most %g\n",
               k < N_SOURCE ? published_source_name[k] : "none", knee[at[0]], reveal[at[1]],
               coupling[at[2]], most[at[3]]);
    }
    cr_expect_eq(knee[at[0]], gradin_glazing_method.mount_knee);
    cr_expect_eq(coupling[at[2]], gradin_glazing_method.coupling);
    cr_expect_eq(most[at[3]], gradin_glazing_method.coupling_most);
    gradin_buildup bare = {.n_layer = 0};
    const glazing_spatial_window *sample = gradin_glazing_sample();
    cr_expect_float_eq(gradin_glazing_mounted(&bare, sample).lateral_pasm2,
                       GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS * reveal[at[1]] *
                           gradin_glazing_rim_1m(sample) / GRADIN_PI,
                       1e-9);
}

/* What left-out predictions must reach. Aims: handbook octaves 3 dB, sealed windows' STC 2 dB with
 * a mean within 1 dB, generic laboratory values 1.5 dB. Panes, units and sealed windows reach them
 * but for 0.1 dB; the handbook's double windows contradict each other (reference/bies-2017). */
Test(glazing_left_out, predictions_reach_their_aims) {
    double mean_db, bias_db;
    study_make();
    error_of(choose(SOURCE_EN_12758), SOURCE_EN_12758, N_GROUP, &mean_db, &bias_db);
    cr_expect(mean_db < 1.5 && fabs(bias_db) < 0.5, "EN 12758 %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_SEALED), SOURCE_SEALED, N_GROUP, &mean_db, &bias_db);
    cr_expect(mean_db < 1.2 && fabs(bias_db) < 1.1, "sealed %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_BIES), SOURCE_BIES, GROUP_PANE, &mean_db, &bias_db);
    cr_expect(mean_db < 2.7 && fabs(bias_db) < 1.0, "Bies, panes %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_BIES), SOURCE_BIES, N_GROUP, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 3.6, "Bies %.2f", mean_db);
    error_of(choose(SOURCE_ROSSING), SOURCE_ROSSING, N_GROUP, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 2.5, "Rossing %.2f", mean_db);
    error_of(choose(SOURCE_HOPKINS), SOURCE_HOPKINS, N_GROUP, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 1.0, "Hopkins %.2f", mean_db);
}

/* The dip: the octave of fc of each single pane of EN 12758, left out. */
Test(glazing_left_out, dips_of_laboratory_panes_are_within_three_decibels) {
    double r_db[GRADIN_N_BAND], octave_db[PUBLISHED_N_OCTAVE];
    study_make();
    int c = choose(SOURCE_EN_12758), n = 0;
    for (int i = 0; i < s.n; i++) {
        const published *p = &s.all[i];
        if (p->source != SOURCE_EN_12758 || p->buildup.n_layer != 1) continue;
        int o = (int)lround(log2(12.5 / p->layer[0].thickness_m / 125.0)); /* fc h 12.5 m Hz */
        curve(c, i, r_db);
        published_octaves_db(r_db, octave_db);
        cr_expect_float_eq(octave_db[o], p->r_db[o], 3.0, "%s: %.1f not %.1f", p->name,
                           octave_db[o], p->r_db[o]);
        n++;
    }
    cr_assert_eq(n, 5);
}

/* Root mean square by octave, of each group with its source left out: the uncertainty of a
 * prediction, which the engine holds. Where the values of a source gainsay its words on frames, the
 * words count here, so that the reading of its frames flatters nothing. */
static double rms_db(int group, int octave) {
    double sum = 0.0, r_db[GRADIN_N_BAND], octave_db[PUBLISHED_N_OCTAVE];
    int n = 0;
    for (int i = 0; i < s.n; i++) {
        published worded = s.all[i];
        bool is_same = worded.worded == worded.buildup.frames;
        worded.buildup.frames = worded.worded;
        if ((int)published_group_of(&worded) != group || !isfinite(worded.r_db[octave])) continue;
        if (is_same)
            curve(choose(worded.source), i, r_db);
        else
            cr_assert_eq(gradin_glazing_r_db(&worded.buildup, r_db, NULL), GRADIN_OK);
        published_octaves_db(r_db, octave_db);
        sum += pow(octave_db[octave] - worded.r_db[octave], 2);
        n++;
    }
    return sqrt(sum / n);
}

Test(glazing_left_out, is_the_uncertainty_of_a_prediction) {
    gradin_layer layer[] = {glass_pane(6), glass_air(100), glass_pane(6)};
    gradin_layer unit[] = {glass_pane(6), glass_air(12), glass_pane(6)};
    gradin_buildup like[N_GROUP] = {{.layer = layer, .n_layer = 1},
                                    {.layer = unit, .n_layer = 3},
                                    {.layer = layer, .n_layer = 3}};
    study_make();
    for (int g = 0; g < N_GROUP; g++) {
        double u_db[GRADIN_N_BAND];
        cr_assert_not_null(gradin_glazing_uncertainty_db(&like[g], u_db));
        for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) {
            double found_db = rms_db(g, o);
            printf("%s%.1f", o ? ", " : "", found_db);
            cr_expect_float_eq(u_db[3 * (o + PUBLISHED_FIRST_OCTAVE) + 1], found_db, 0.06,
                               "%s, octave %d: %.2f", group_name[g], o, found_db);
        }
        puts("");
    }
}

/* ISO 12999-1:2020 Table 2, situation A: reference/iso-12999-1. */
Test(glazing_left_out, a_measured_index_has_the_uncertainty_of_iso_12999_1) {
    gradin_buildup buildup = {.is_measured = true};
    double u_db[GRADIN_N_BAND], cell[GLASS_MAX_CELL];
    char word[32];
    gradin_glazing_uncertainty_db(&buildup, u_db);
    FILE *file = glass_csv_open("iso-12999-1/airborne.csv");
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        cr_assert_gt(glass_csv_row(file, cell, word), 1);
        cr_expect(cell[0] == gradin_band_nominal_hz(b) && cell[1] == u_db[b], "%g Hz", cell[0]);
    }
    glass_csv_close(file);
    buildup.measured_r_db[0] = NAN; /* filled in from a prediction: both */
    gradin_glazing_uncertainty_db(&buildup, u_db);
    cr_expect_gt(u_db[0], 6.8);
}
