/* How well the theory of glazing foretells what no value of it was chosen on.
 *
 * Four values of mounting.c are chosen among a few each: from the smallest sum, over the sources,
 * of each source's mean absolute error. Each source is left out in turn, the values chosen on the
 * others, and the source's error printed: that is the error of a prediction, and what
 * gradin_glazing_uncertainty() hands on. The printed tables are kept in reference/glazing and
 * quoted by README.md. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glazing/published.h"

#include <criterion/criterion.h>
#include <stdio.h>

enum { N_KNEE = 3, N_REVEAL = 3, N_COUPLING = 6, N_CAP = 5 };
enum { N_CHOICE = N_KNEE * N_REVEAL * N_COUPLING * N_CAP };

static const double knee[N_KNEE] = {0.7, 1.0, 1.4}, reveal[N_REVEAL] = {0.05, 0.1, 0.2};
static const double coupling[N_COUPLING] = {0.03, 0.045, 0.06, 0.09, 0.12, 0.16};
static const double most_share[N_CAP] = {0.15, 0.2, 0.3, 0.45, 0.7};

typedef struct study {
    int n_read, n; /* builds as their sources stand for; and with frames as worded */
    published all[PUBLISHED_MOST]; /* [n], reworded ones from n_read on */
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
            tau += fmin(coupling[at[2]] / (k_radm * gap_m(&s.all[i])), most_share[at[3]]) *
                   s.held[at[0]][i][b];
        r_db[b] = -10.0 * log10(fmin(tau, 1.0));
    }
}

static int differences(int choice, int i, double *d_db) {
    double r_db[GRADIN_N_BAND];
    curve(choice, i, r_db);
    return published_differences(&s.all[i], r_db, d_db);
}

static void add_worded(const published *like) {
    published *p = &s.all[s.n++];
    *p = *like;
    p->buildup.layer = p->layer;
    p->buildup.frames = p->worded;
}

/* Counts among the builds as their sources stand for, or among those with frames as worded. */
static bool is_among(int i, bool is_worded) {
    const published *p = &s.all[i];
    return is_worded ? p->buildup.frames == p->worded : i < s.n_read;
}

static void study_make(void) {
    double d_db[GRADIN_N_BAND];
    s.n = s.n_read = published_read(s.all);
    for (int i = 0; i < s.n_read; i++)
        if (s.all[i].worded != s.all[i].buildup.frames) add_worded(&s.all[i]);
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
        for (int i = 0; i < s.n_read; i++) {
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
static int error_of(int choice, int source, int group, bool is_worded, double *mean_db,
                    double *bias_db) {
    int n_case = 0, n = 0;
    double d_db[GRADIN_N_BAND];
    *mean_db = *bias_db = 0.0;
    for (int i = 0; i < s.n; i++) {
        if ((int)s.all[i].source != source || !is_among(i, is_worded)) continue;
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
static void check_row(FILE *file, int source, int group, bool is_worded) {
    char word[32];
    double cell[GLASS_MAX_CELL], mean_db, bias_db;
    int n = error_of(choose(source), source, group, is_worded, &mean_db, &bias_db);
    if (n == 0) return;
    printf("%s,%s%s,%d,%.2f,%.2f\n", published_source_name[source], group_name[group],
           is_worded ? " as worded" : "", n, mean_db, bias_db);
    cr_expect_eq(glass_csv_row(file, cell, word), 5);
    cr_expect(cell[2] == n && fabs(cell[3] - mean_db) < 0.006 && fabs(cell[4] - bias_db) < 0.006,
              "%s, %s", published_source_name[source], group_name[group]);
}

static void check_kept_table(void) {
    char word[32];
    double cell[GLASS_MAX_CELL];
    FILE *file = glass_csv_open("glazing/left-out.csv");
    puts("source,group,builds,mean_abs_db,mean_db");
    for (int k = 0; k < N_SOURCE; k++)
        for (int g = 0; g <= N_GROUP; g++) {
            check_row(file, k, g, false);
            if (k == SOURCE_BIES && g >= GROUP_DOUBLE) check_row(file, k, g, true);
        }
    cr_expect_eq(glass_csv_row(file, cell, word), 0);
    glass_csv_close(file);
}

/* The engine's four values are the choice on all sources. */
static void check_choice_on_all(void) {
    int at[4];
    for (int k = 0; k <= N_SOURCE; k++) {
        split(choose(k), at);
        printf("without %s: knee %g, bare reveals %g, coupling %g, at most %g\n",
               k < N_SOURCE ? published_source_name[k] : "none", knee[at[0]], reveal[at[1]],
               coupling[at[2]], most_share[at[3]]);
    }
    cr_expect_eq(knee[at[0]], gradin_glazing_method.mount_knee);
    cr_expect_eq(coupling[at[2]], gradin_glazing_method.coupling);
    cr_expect_eq(most_share[at[3]], gradin_glazing_method.coupling_most);
    gradin_buildup bare = {.n_layer = 0};
    const glazing_spatial_window *sample = gradin_glazing_sample();
    cr_expect_float_eq(gradin_glazing_mounted(&bare, sample).lateral_pasm2,
                       GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS * reveal[at[1]] *
                           gradin_glazing_rim_1m(sample) / GRADIN_PI,
                       1e-9);
}

/* What left-out predictions must reach. Aims: handbook octaves 3 dB, sealed windows' STC 2 dB with
 * a mean within 1 dB, generic laboratory values 1.5 dB. Panes, units and sealed windows reach them
 * but for 0.1 dB; the handbook's double windows contradict each other (reference/bies-2017). What
 * is reached is held here, so that no change loses it. */
static void check_aims(void) {
    double mean_db, bias_db;
    error_of(choose(SOURCE_EN_12758), SOURCE_EN_12758, N_GROUP, false, &mean_db, &bias_db);
    cr_expect(mean_db < 1.55 && fabs(bias_db) < 0.75, "EN 12758 %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_SEALED), SOURCE_SEALED, N_GROUP, false, &mean_db, &bias_db);
    cr_expect(mean_db < 1.2 && fabs(bias_db) < 1.1, "sealed %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_BIES), SOURCE_BIES, GROUP_PANE, false, &mean_db, &bias_db);
    cr_expect(mean_db < 2.7 && fabs(bias_db) < 1.0, "Bies, panes %.2f %.2f", mean_db, bias_db);
    error_of(choose(SOURCE_BIES), SOURCE_BIES, N_GROUP, false, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 3.55, "Bies %.2f", mean_db);
    error_of(choose(SOURCE_BIES), SOURCE_BIES, N_GROUP, true, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 3.95, "Bies as worded %.2f", mean_db);
    error_of(choose(SOURCE_ROSSING), SOURCE_ROSSING, N_GROUP, false, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 2.5, "Rossing %.2f", mean_db);
    error_of(choose(SOURCE_HOPKINS), SOURCE_HOPKINS, N_GROUP, false, &mean_db, &bias_db);
    cr_expect_lt(mean_db, 1.0, "Hopkins %.2f", mean_db);
}

/* The dip: the octave of fc of each single pane of EN 12758, left out. */
static void check_dips(void) {
    double r_db[GRADIN_N_BAND], octave_db[PUBLISHED_N_OCTAVE];
    int c = choose(SOURCE_EN_12758), n = 0;
    for (int i = 0; i < s.n_read; i++) {
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

enum { ROW_PANE, ROW_LAMINATED, ROW_UNIT, ROW_DOUBLE, N_ROW };
static const char *const row_name[N_ROW] = {"one pane", "laminated pane", "sealed unit",
                                            "double window"};

static bool is_laminated(const published *p) {
    return p->buildup.n_layer == 3 && p->layer[1].kind == GRADIN_LAYER_INTERLAYER;
}

static int row_of(const published *p) {
    int group = (int)published_group_of(p);
    if (group == GROUP_PANE) return is_laminated(p) ? ROW_LAMINATED : ROW_PANE;
    return group == GROUP_UNIT ? ROW_UNIT : ROW_DOUBLE;
}

/* Root mean square by octave, of each kind with its source left out. Frames as worded, so that the
 * reading of a table flatters nothing. */
static double rms_db(int row, int octave) {
    double sum = 0.0, r_db[GRADIN_N_BAND], octave_db[PUBLISHED_N_OCTAVE];
    int n = 0;
    for (int i = 0; i < s.n; i++) {
        const published *p = &s.all[i];
        if (!is_among(i, true) || row_of(p) != row) continue;
        if (!isfinite(p->r_db[octave])) continue;
        curve(choose((int)p->source), i, r_db);
        published_octaves_db(r_db, octave_db);
        sum += pow(octave_db[octave] - p->r_db[octave], 2);
        n++;
    }
    return sqrt(sum / n);
}

/* Two builds that their sources word alike: panes within a tenth, gaps within a fifth. */
static bool is_alike(const published *a, const published *b) {
    if (a->buildup.n_layer != b->buildup.n_layer || a->worded != b->worded) return false;
    for (int i = 0; i < a->buildup.n_layer; i++) {
        double ratio = a->layer[i].thickness_m / b->layer[i].thickness_m;
        double most = a->layer[i].kind == GRADIN_LAYER_GAP ? 1.2 : 1.1;
        if (a->layer[i].kind != b->layer[i].kind || ratio > most || ratio < 1.0 / most)
            return false;
    }
    return a->buildup.has_lined_reveals == b->buildup.has_lined_reveals;
}

/* Standard deviation of what the sources have for laminated panes of 12 to 13 mm, by octave: no
 * prediction can be known better than they agree. */
static double contradiction_db(int octave) {
    double sum = 0.0, square = 0.0;
    int n = 0, first = -1;
    for (int i = 0; i < s.n_read; i++) {
        const published *p = &s.all[i];
        if (p->source == SOURCE_BIES && is_laminated(p)) first = i;
    }
    cr_assert_geq(first, 0);
    for (int i = 0; i < s.n_read; i++) {
        const published *p = &s.all[i];
        if (!is_laminated(p) || !is_alike(p, &s.all[first]) || !isfinite(p->r_db[octave])) continue;
        sum += p->r_db[octave];
        square += p->r_db[octave] * p->r_db[octave];
        n++;
    }
    cr_assert_eq(n, 3);
    return sqrt((square - sum * sum / n) / (n - 1));
}

/* The uncertainty of a prediction, which the engine holds: the error left out, and of laminated
 * panes what the sources differ by, where that is more. */
static void check_uncertainty(void) {
    gradin_layer layer[] = {glass_pane(6), glass_air(100), glass_pane(6)};
    gradin_layer unit[] = {glass_pane(6), glass_air(12), glass_pane(6)};
    gradin_layer laminate[] = {glass_pane(6), glass_pvb(0.76), glass_pane(6)};
    gradin_buildup like[N_ROW] = {{.layer = layer, .n_layer = 1},
                                  {.layer = laminate, .n_layer = 3},
                                  {.layer = unit, .n_layer = 3},
                                  {.layer = layer, .n_layer = 3}};
    for (int row = 0; row < N_ROW; row++) {
        double u_db[GRADIN_N_BAND];
        cr_assert_not_null(gradin_glazing_uncertainty_db(&like[row], u_db));
        for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) {
            double found_db = rms_db(row, o);
            if (row == ROW_LAMINATED) found_db = fmax(found_db, contradiction_db(o));
            printf("%s%.1f", o ? ", " : "", found_db);
            cr_expect_float_eq(u_db[3 * (o + PUBLISHED_FIRST_OCTAVE) + 1], found_db, 0.06,
                               "%s, octave %d: %.2f", row_name[row], o, found_db);
        }
        puts("");
    }
}

/* Mean absolute and largest difference over the octaves that both have, else of STC; 0 when neither
 * compares. */
static int apart(const published *a, const published *b, double *mean_db, double *most_db) {
    int n = 0;
    *mean_db = *most_db = 0.0;
    for (int o = 0; o < PUBLISHED_N_OCTAVE; o++) {
        double d_db = fabs(a->r_db[o] - b->r_db[o]);
        if (!isfinite(d_db)) continue;
        *mean_db += d_db;
        *most_db = fmax(*most_db, d_db);
        n++;
    }
    if (n > 0) {
        *mean_db /= n;
    } else if (isfinite(a->stc - b->stc)) {
        *mean_db = *most_db = fabs(a->stc - b->stc);
        n = 1;
    }
    return n;
}

/* Where published figures of like builds contradict each other: kept in reference/glazing. */
static void check_spread(void) {
    char word[32];
    double cell[GLASS_MAX_CELL], mean_db, most_db;
    FILE *file = glass_csv_open("glazing/spread.csv");
    puts("build,source,other_build,other_source,mean_abs_db,most_db");
    for (int i = 0; i < s.n_read; i++)
        for (int j = i + 1; j < s.n_read; j++) {
            const published *a = &s.all[i], *b = &s.all[j];
            bool is_same = a->source == b->source && a->source != SOURCE_BIES;
            if (is_same || !is_alike(a, b) || apart(a, b, &mean_db, &most_db) == 0) continue;
            printf("%s,%s,%s,%s,%.1f,%.1f\n", a->name, published_source_name[a->source], b->name,
                   published_source_name[b->source], mean_db, most_db);
            cr_expect_eq(glass_csv_row(file, cell, word), 6, "%s", a->name);
            cr_expect(fabs(cell[4] - mean_db) < 0.06 && fabs(cell[5] - most_db) < 0.06, "%s, %s",
                      a->name, b->name);
        }
    cr_expect_eq(glass_csv_row(file, cell, word), 0);
    glass_csv_close(file);
}

/* One test, since the study is made once per process. */
Test(glazing_left_out, each_source_is_foretold_by_the_others) {
    study_make();
    check_kept_table();
    check_choice_on_all();
    check_aims();
    check_dips();
    check_uncertainty();
    check_spread();
}
