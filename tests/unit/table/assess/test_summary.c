/* The summary as JSON and as text, and both tables as files. JSON is read back by jansson. */
#include "base/faults.h"
#include "unit/table/small_result.h"

#include "gradin/table.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static gradin_arena *arena;

static void set_up(void) {
    arena = gradin_arena_create();
}
static void tear_down(void) {
    gradin_arena_destroy(arena);
}
TestSuite(summary, .init = set_up, .fini = tear_down);

static char *json_text(const gradin_assessment *a) {
    char *text = NULL;
    size_t size = 0;
    cr_assert_eq(gradin_summary_json(arena, a, &text, &size, NULL), GRADIN_OK);
    cr_assert_eq(strlen(text), size);
    cr_assert_eq(text[size - 1], '\n');
    return text;
}

/* Value at a dotted path; a number in it is an index. */
static json_t *at(json_t *value, const char *path) {
    char copy[200];
    snprintf(copy, sizeof copy, "%s", path);
    for (char *key = strtok(copy, "."); key; key = strtok(NULL, "."))
        value = json_is_array(value) ? json_array_get(value, strtoul(key, NULL, 10))
                                     : json_object_get(value, key);
    cr_assert_not_null(value, "nothing at %s", path);
    return value;
}

static void expect_number(json_t *root, const char *path, double wanted) {
    cr_assert_eq(json_number_value(at(root, path)), wanted, "%s is %g and not %g", path,
                 json_number_value(at(root, path)), wanted);
}

Test(summary, json_figures) {
    json_t *root = json_loads(json_text(small_result()), JSON_REJECT_DUPLICATES, NULL);
    cr_assert_not_null(root);
    cr_assert_str_eq(json_string_value(at(root, "format")), "gradin-summary-1");
    cr_assert_str_eq(json_string_value(at(root, "form")), "in the round");
    expect_number(root, "seats.all", 3);
    expect_number(root, "rating.clear.share_pct", 33.3);
    expect_number(root, "rating.fair.seats", 0);
    cr_assert_str_eq(json_string_value(at(root, "levels.0.level")), "main floor");
    expect_number(root, "levels.0.seats", 3);
    expect_number(root, "levels.0.good", 1);
    expect_number(root, "levels.0.fair", 0);
    expect_number(root, "levels.0.visible_pct.median", 85.0);
    expect_number(root, "limits.visible_min_pct.1", 85.0);
    cr_assert(json_is_null(at(root, "limits.visible_min_pct.2")));
    expect_number(root, "sight.visible_pct.median", 85.0);
    expect_number(root, "sight.c_value_mm.most", -12);
    cr_assert_str_eq(json_string_value(at(root, "worst_seats.0.seat")), "Stalls-2-1");
    expect_number(root, "worst_seats.0.hidden_pct.rails", 25.0);
    cr_assert(json_is_null(at(root, "worst_seats.2.worst_occluder")));
    cr_assert(json_is_null(at(root, "worst_seats.2.c_mm")));
    expect_number(root, "noise.criterion.nc", 25);
    cr_assert(json_is_null(at(root, "noise.criterion.lamax_dba")));
    expect_number(root, "noise.criterion.seats_over", 2);
    expect_number(root, "noise.criterion.seats_too_near", 1);
    expect_number(root, "noise.criterion.seats_within", 0);
    expect_number(root, "noise.criterion.confidence_pct", 84);
    expect_number(root, "noise.uncertainty.systematic_db.median", 3);
    expect_number(root, "noise.uncertainty.scatter_db", 4);
    expect_number(root, "noise.lamax_dba.open.most", 46.0);
    expect_number(root, "noise.facade.shut.d2m_nt_w_db", 47);
    expect_number(root, "noise.buildups.0.ctr_db", -6);
    expect_number(root, "noise.elements.1.share_pct", 25.0);
    expect_number(root, "noise.band_hz.20", 5000);
    json_decref(root);
}

Test(summary, json_keeps_its_key_order) {
    static const char *const key[] = {"format",       "version", "venue",   "layout", "form",
                                      "input_digest", "seats",   "rating",  "limits", "sight",
                                      "worst_seats",  "noise",   "cautions"};
    const char *text = json_text(small_result());
    for (size_t k = 0; k < sizeof key / sizeof key[0]; k++) {
        char line[64];
        snprintf(line, sizeof line, "\n  \"%s\": ", key[k]);
        const char *found = strstr(text, line);
        cr_assert_not_null(found, "no %s after the key before it", key[k]);
        text = found + 1;
    }
}

Test(summary, json_prints_rounded_digits_only) {
    const char *text = json_text(small_result());
    for (const char *point = strchr(text, '.'); point; point = strchr(point + 1, '.')) {
        size_t n = strspn(point + 1, "0123456789");
        cr_assert_leq(n, 3u, "too many digits near %.20s", point - 5);
    }
    cr_assert_null(strstr(text, "-0.0"));
}

Test(summary, json_without_noise) {
    json_t *root = json_loads(json_text(small_result_quiet()), 0, NULL);
    cr_assert(json_is_null(at(root, "noise")));
    json_decref(root);
}

Test(summary, json_without_shades_has_no_open_and_shut) {
    gradin_assessment *a = small_result();
    gradin_model bare = *a->model;
    bare.n_shade = 0;
    a->model = &bare;
    json_t *root = json_loads(json_text(a), 0, NULL);
    cr_assert(json_is_null(at(root, "noise.lamax_dba.open")));
    cr_assert(json_is_null(at(root, "noise.facade.shut")));
    cr_assert(json_is_object(at(root, "noise.facade.as_set")));
    json_decref(root);
}

static const char *summary_of(const gradin_assessment *a) {
    char *text = NULL;
    cr_assert_eq(gradin_summary_text(arena, a, &text, NULL), GRADIN_OK);
    return text;
}

static void expect_line(const char *text, const char *line) {
    cr_assert_not_null(strstr(text, line), "no \"%s\" in\n%s", line, text);
}

Test(summary, text_says_it_all) {
    const char *text = summary_of(small_result());
    expect_line(text, "Three seats (in the round) in Small room\n");
    expect_line(text, "3 seats, of which 1 wheelchair places and 1 companion seats\n");
    expect_line(text, "clear 1 (33.3 %), good 1 (33.3 %), fair 0 (0.0 %), poor 1 (33.3 %)\n");
    expect_line(text, "heads 50.0 %, Stalls-1-1\n");
    expect_line(text, "rails 15.0 %, front rail\n");
    expect_line(text, "nothing hides the focus\n");
    expect_line(text, "outside LAmax 76.2 dB");
    expect_line(text, "+- 3.0 dB");
    expect_line(text, "Facade D2m,nT,w 44 dB as set, 42 dB shades open, 47 dB shades shut\n");
    expect_line(text, "  laminated: Rw (C; Ctr) 40 (-2; -6) dB, predicted\n");
    expect_line(text, "  door: Rw (C; Ctr) 36 (0; -2) dB, measured\n");
    expect_line(text, "0 of 3 seats within, 1 too near to tell, 2 over\n");
    expect_line(text,
                "Rails, guards, egress, loads and moving machinery: local codes and licensed\n");
    expect_line(text, "under or on moving machinery");
    expect_line(text, "no measurement");
}

/* Lines and characters (not bytes) of the widest line. */
static void measure(const char *text, int *n_line, int *width) {
    int column = 0;
    *n_line = *width = 0;
    for (; *text; text++) {
        if (*text == '\n') {
            ++*n_line;
            column = 0;
        } else if (((unsigned char)*text & 0xC0) != 0x80)
            column++;
        if (column > *width) *width = column;
    }
}

Test(summary, text_fits_one_screen_whatever_the_names) {
    static char long_name[301];
    gradin_buildup buildup[8];
    gradin_weighted rw[8];
    gradin_assessment *a = small_result();
    gradin_model model = *a->model;
    gradin_pass pass = *model.pass;
    const char *id[SMALL_SEATS] = {long_name, long_name, long_name};
    const char *occluder[] = {long_name, long_name};
    int n_line, width;
    for (int i = 0; i < 150; i++) memcpy(long_name + 2 * i, "\xC3\xA9", 2);
    pass.name = model.layout_name = model.venue_name = long_name;
    model.pass = &pass;
    model.seats.id = id;
    model.occluder_name = occluder;
    model.criterion.lamax_dba = 42.0;
    for (int k = 0; k < 8; k++) {
        buildup[k] = (gradin_buildup){.name = long_name};
        rw[k] = (gradin_weighted){.rating_db = 40, .c_db = -12, .ctr_db = -16};
    }
    model.buildup = buildup;
    model.n_buildup = a->noise.n_buildup = 8;
    a->noise.rw = rw;
    a->noise.gaps.ground =
        GRADIN_GROUND_HARD; /* all of the envelope is stated: nothing to warn of */
    a->model = &model;
    a->n_worst = GRADIN_N_WORST;
    for (int k = 0; k < GRADIN_N_WORST; k++) a->worst_seat[k] = k % SMALL_SEATS;
    measure(summary_of(a), &n_line, &width);
    cr_assert_leq(width, 100, "%d columns", width);
    cr_assert_leq(n_line, 49, "%d lines", n_line);
    expect_line(summary_of(a), "and 6 more build-ups in summary.json");
}

/* ISO 16283-1 (from memory): what is not 6 dB above the noise of the room cannot be measured. */
Test(summary, text_says_what_no_meter_will_show) {
    gradin_assessment *a = small_result();
    cr_assert_null(strstr(summary_of(a), "a meter reads"));
    a->lamax_db[GRADIN_SHADES_AS_SET].least = 20.0;
    expect_line(summary_of(a), "Levels below 27.0 dB(A) lie under the noise of a very quiet hall");
    cr_assert_null(strstr(summary_of(a), "nobody hears"));
    a->lamax_db[GRADIN_SHADES_AS_SET].least = -21.0;
    expect_line(summary_of(a), "Those below 0 dB(A) nobody hears, even in silence.");
}

/* A light roof that adds 10 dB lets in 9 times what all else does: 9.5 dB more than that; a heavy
 * one that adds 3.0103 dB as much as that. */
Test(summary, text_says_what_is_left_when_all_that_is_stated_is_perfect) {
    static const gradin_construction kind = {.meaning = "a kind", .source = "a source"};
    gradin_assessment *a = small_result();
    gradin_facade_part alone = {
        .entry = "west", .kind = GRADIN_PART_BODY, .share = 1.0, .without_db = -INFINITY};
    a->facade.part[GRADIN_SHADES_AS_SET] = &alone;
    a->facade.n_part = 1;
    a->noise.gaps.ground = GRADIN_GROUND_HARD;
    a->lamax_db[GRADIN_SHADES_AS_SET].median = 40.0;
    expect_line(summary_of(a), "(were it perfect: nothing left)");
    a->noise.gaps.n_gap = 1;
    a->noise.gaps.gap[0] = (gradin_gap){.what = "roof",
                                        .area_m2 = 500.0,
                                        .light = &kind,
                                        .heavy = &kind,
                                        .light_db = 10.0,
                                        .heavy_db = 3.0103};
    expect_line(summary_of(a), "(were it perfect: nothing left of what is stated)");
    expect_line(summary_of(a),
                "What is not stated would let in 49.5 dB at the median seat, were it "
                "light,\n  40.0 dB were it heavy.");
}

/* One level is all the seats, and needs no line. */
Test(summary, text_has_a_line_per_level_where_there_are_more) {
    static gradin_level_sum level[] = {{.n_seat = 2, .n_rating = {1, 1, 0, 0}},
                                       {.n_seat = 1, .n_rating = {0, 0, 0, 1}}};
    static const char *const name[] = {"main floor", "balcony"};
    gradin_assessment *a = small_result();
    gradin_model model = *a->model;
    cr_assert_null(strstr(summary_of(a), "main floor"));
    model.level_name = name;
    model.n_level = 2;
    a->model = &model;
    a->level = level;
    expect_line(summary_of(a), "  main floor               2: clear 1, good 1, fair 0, poor 0\n"
                               "  balcony                  1: clear 0, good 0, fair 0, poor 1\n");
}

Test(summary, text_without_noise_says_why) {
    expect_line(summary_of(small_result_quiet()), "Noise: the layout names no overflight");
}

Test(summary, a_lack_of_memory_is_reported) {
    char *text;
    size_t size;
    gradin_error error = {0};
    gradin_alloc_fail_at(1);
    cr_assert_eq(gradin_summary_text(arena, small_result(), &text, &error), GRADIN_NO_MEMORY);
    gradin_alloc_fail_at(1);
    cr_assert_eq(gradin_summary_json(arena, small_result(), &text, &size, &error),
                 GRADIN_NO_MEMORY);
    gradin_alloc_fail_at(0);
    cr_assert_eq(error.n_diagnostic, 2);
}

static int files_in(const char *dir) {
    DIR *folder = opendir(dir);
    int n = 0;
    for (struct dirent *entry; (entry = readdir(folder));) n += entry->d_name[0] != '.';
    closedir(folder);
    return n;
}

static void empty(const char *dir) {
    char path[256];
    static const char *const name[] = {"seats.csv", "seats_short.csv", "summary.json"};
    for (int k = 0; k < 3; k++) {
        snprintf(path, sizeof path, "%s/%s", dir, name[k]);
        unlink(path);
    }
}

Test(summary, all_files_are_written) {
    char dir[] = "/tmp/gradin-tables-XXXXXX", path[64];
    struct stat info;
    char *csv;
    size_t size;
    cr_assert_not_null(mkdtemp(dir));
    cr_assert_eq(gradin_tables_write(small_result(), GRADIN_CSV_SI, dir, NULL), GRADIN_OK);
    cr_assert_eq(files_in(dir), 3);
    gradin_seats_csv(arena, small_result(), GRADIN_CSV_SI, &csv, &size, NULL);
    snprintf(path, sizeof path, "%s/seats.csv", dir);
    cr_assert_eq(stat(path, &info), 0);
    cr_assert_eq((size_t)info.st_size, size);
    empty(dir);
    cr_assert_eq(rmdir(dir), 0, "something else was left behind");
}

Test(summary, a_full_disk_leaves_no_half_file) {
    char dir[] = "/tmp/gradin-tables-XXXXXX";
    cr_assert_not_null(mkdtemp(dir));
    for (long n = 1; n <= 3; n++) {
        gradin_error error = {0};
        gradin_write_fail_at(n);
        cr_assert_eq(gradin_tables_write(small_result(), GRADIN_CSV_SI, dir, &error),
                     GRADIN_IO_FAILED);
        gradin_write_fail_at(0);
        cr_assert_eq(error.n_diagnostic, 1);
        cr_assert_eq(files_in(dir), (int)n - 1);
    }
    empty(dir);
    cr_assert_eq(rmdir(dir), 0);
}

Test(summary, a_missing_folder_is_reported) {
    gradin_error error = {0};
    cr_assert_eq(gradin_tables_write(small_result(), GRADIN_CSV_SI, "/nowhere/at/all", &error),
                 GRADIN_IO_FAILED);
    cr_assert_str_eq(error.diagnostic[0].file, "/nowhere/at/all/seats.csv");
}
