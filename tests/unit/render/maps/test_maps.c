/* Whole maps of a hall made by hand: the file, its pixels, its failures. */
#include "base/faults.h"
#include "render/draw/colour.h"
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static gradin_arena *arena;
static fake_hall *hall;

static void set_up(void) {
    arena = gradin_arena_create();
    hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
}

static void tear_down(void) {
    gradin_arena_destroy(arena);
}

TestSuite(maps, .init = set_up, .fini = tear_down);

static png_back drawn(gradin_map map, int sheet) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    png_back png;
    gradin_error error = {0};
    gradin_status status =
        gradin_map_png(arena, &hall->assessment, map, sheet, &bytes, &size, &error);
    cr_assert_eq(status, GRADIN_OK, "%s: %s", gradin_map_name(map), error.diagnostic[0].text);
    cr_assert(png_back_read(arena, bytes, size, &png), "%s", gradin_map_name(map));
    return png;
}

Test(maps, file_carries_size_resolution_and_texts) {
    png_back png = drawn(GRADIN_MAP_VISIBLE, 0);
    cr_assert_eq(png.width, 1800);
    cr_assert_eq(png.height, 2546, "297 mm by 420 mm, not %d", png.height);
    cr_assert_eq(png.per_metre, 6061, "1800 dots on 297 mm are %u a metre", png.per_metre);
    cr_assert_not(png.has_time);
    cr_assert_eq(png.n_text, 7);
    cr_assert_str_eq(png_back_text(&png, "Software"), "gradin " GRADIN_VERSION);
    cr_assert_str_eq(png_back_text(&png, "Layout"), hall->model.layout_name);
    cr_assert_str_eq(png_back_text(&png, "Quantity"), "Share of the focus area seen, %");
    cr_assert_str_eq(png_back_text(&png, "Source"), hall->model.digest);
    cr_assert_str_eq(png_back_text(&png, "Level"), "main floor");
    cr_assert_not_null(strstr(png_back_text(&png, "Title"), hall->model.layout_name));
}

Test(maps, text_that_is_not_ascii_survives) {
    hall->model.layout_name = "Gr\xC3\xB6\xC3\x9F"
                              "er \xE2\x80\x93 2";
    png_back png = drawn(GRADIN_MAP_RATING, 1);
    cr_assert_str_eq(png_back_text(&png, "Layout"), hall->model.layout_name);
}

/* The quality of the step that a value lies in, of n steps from `first`; an edge belongs to the
 * lower step. */
static double step_quality(double value, double first, double step, int n) {
    double k = fmin(fmax(ceil((value - first) / step) - 1.0, 0.0), n - 1.0);
    return k / (n - 1.0);
}

/* About the limit of 45 dB(A): values from 30 to 62 dB, but for two that a mistake made. */
static double level_quality(double level_db) {
    return isfinite(level_db) ? 1.0 - step_quality(level_db, 27.0, 6.0, 6) : (double)NAN;
}

static double quality_of(gradin_map map, int seat) {
    const gradin_assessment *a = &hall->assessment;
    switch (map) { /* written out again on purpose, from the limits stated for each scale */
    case GRADIN_MAP_VISIBLE:
        return a->sight.visible[seat];
    case GRADIN_MAP_C_VALUE:
        return isnan(a->sight.c_m[seat]) ? (double)NAN
                                         : step_quality(a->sight.c_m[seat], -0.03, 0.03, 6);
    case GRADIN_MAP_DISTANCE:
        return 1.0 - a->sight.distance_m[seat] / 35.0;
    case GRADIN_MAP_OFF_AXIS:
        return 1.0 - a->sight.off_axis_deg[seat] / 90.0;
    case GRADIN_MAP_TURN:
        return 1.0 - a->sight.turn_deg[seat] / 90.0;
    case GRADIN_MAP_CLEAR_VIEW:
        return a->crowd.clear[seat];
    case GRADIN_MAP_LAMAX:
        return level_quality(a->noise.lamax_db[0][seat]);
    case GRADIN_MAP_LAMAX_OPEN:
        return level_quality(a->noise.lamax_db[1][seat]);
    case GRADIN_MAP_LAMAX_SHUT:
        return level_quality(a->noise.lamax_db[2][seat]);
    case GRADIN_MAP_SHADE_GAIN: /* of the scale of differences, -1 .. 1 */
        return a->shade_gain_db[seat] / 6.0;
    default:
        return NAN;
    }
}

static colour map_colour(int map, int seat) {
    double place = quality_of((gradin_map)map, seat);
    if (!isfinite(place)) return COLOUR_WHITE;
    return map == GRADIN_MAP_SHADE_GAIN ? colour_difference(place) : colour_at(place);
}

static void check_colours(gradin_map map, int sheet) {
    png_back png = drawn(map, sheet);
    check_page(hall, &png, gradin_map_name(map), sheet, map_colour, (int)map);
}

Test(maps, seats_have_the_colour_of_their_value) {
    for (int map = 0; map < GRADIN_N_MAP; map++)
        if (map != GRADIN_MAP_RATING) check_colours((gradin_map)map, 0);
    check_colours(GRADIN_MAP_DISTANCE, 1);
}

Test(maps, rating_has_four_colours_of_falling_lightness) {
    png_back png = drawn(GRADIN_MAP_RATING, 0);
    int last = 1000;
    for (int rating = 0; rating < GRADIN_N_RATING; rating++) {
        int seat = 0;
        while (hall->assessment.sight.rating[seat] != (gradin_rating)rating) seat++;
        const unsigned char *p = seat_pixel(hall, &png, seat, 0.17, 0.22);
        int grey = (2 * p[0] + 7 * p[1] + p[2]) / 10;
        cr_assert_lt(grey, last - 30, "rating %d", rating);
        last = grey;
    }
}

/* A seat that is worse than fair differs from the same seat that is not, beyond its colour. */
Test(maps, poor_seats_are_marked) {
    hall->assessment.sight.visible[100] = 0.7;
    png_back plain = drawn(GRADIN_MAP_VISIBLE, 0);
    hall->model.limits.visible_min[2] = 0.75;
    png_back marked = drawn(GRADIN_MAP_VISIBLE, 0);
    int changed = 0;
    for (double right = -0.2; right <= 0.2; right += 0.02)
        for (double ahead = -0.3; ahead <= 0.3; ahead += 0.02)
            changed += memcmp(seat_pixel(hall, &plain, 100, right, ahead),
                              seat_pixel(hall, &marked, 100, right, ahead), 3) != 0;
    cr_assert_gt(changed, 10);
}

Test(maps, units_of_feet_change_the_picture) {
    png_back metres = drawn(GRADIN_MAP_DISTANCE, 0);
    hall->model.units = "ft";
    png_back feet = drawn(GRADIN_MAP_DISTANCE, 0);
    cr_assert_str_eq(png_back_text(&feet, "Quantity"),
                     "Distance from the eye to the focus centre, ft");
    const unsigned char *a = seat_pixel(hall, &metres, 100, 0.17, 0.22);
    cr_assert_arr_eq(a, seat_pixel(hall, &feet, 100, 0.17, 0.22), 3,
                     "the colour keeps its meaning");
}

Test(maps, same_bytes_twice) {
    for (int map = 0; map < GRADIN_N_MAP; map += 3) {
        unsigned char *bytes[2];
        size_t size[2];
        for (int k = 0; k < 2; k++)
            cr_assert_eq(gradin_map_png(arena, &hall->assessment, (gradin_map)map, 0, &bytes[k],
                                        &size[k], NULL),
                         GRADIN_OK);
        cr_assert_eq(size[0], size[1]);
        cr_assert_eq(memcmp(bytes[0], bytes[1], size[0]), 0, "%s",
                     gradin_map_name((gradin_map)map));
    }
}

Test(maps, small_seats_get_more_pixels) {
    static const gradin_vec2 field[] = {{-40, -40}, {70, -40}, {70, 60}, {-40, 60}};
    hall->model.footprint = (gradin_polygon){field, 4};
    png_back png = drawn(GRADIN_MAP_VISIBLE, 0);
    cr_assert_eq(png.width, 3150, "12 pixels to a seat, not %d", png.width);
    cr_assert_eq(png.per_metre, 10606);
    check_colours(GRADIN_MAP_VISIBLE, 0);
}

static void refuse(gradin_map map, int sheet) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    gradin_error error = {0};
    cr_assert_eq(gradin_map_png(arena, &hall->assessment, map, sheet, &bytes, &size, &error),
                 GRADIN_BAD_USE, "%s sheet %d", gradin_map_name(map), sheet);
    cr_assert_eq(error.n_diagnostic, 1);
    cr_assert_null(bytes);
}

Test(maps, what_does_not_apply_is_refused) {
    refuse(GRADIN_MAP_VISIBLE, -1);
    refuse(GRADIN_MAP_VISIBLE, 2);
    refuse((gradin_map)GRADIN_N_MAP, 0);
    refuse((gradin_map)-1, 0);
    hall->model.axis_deg = NAN;
    refuse(GRADIN_MAP_OFF_AXIS, 0);
    hall->assessment.has_noise = false;
    refuse(GRADIN_MAP_LAMAX, 0);
    refuse(GRADIN_MAP_LAMAX_SHUT, 0);
    hall->model.seats.n_seat = 0;
    refuse(GRADIN_MAP_VISIBLE, 0);
}

Test(maps, nothing_to_draw_is_refused) {
    static const gradin_vec2 dot[] = {{1, 1}, {1, 1}, {1, 1}};
    gradin_model *m = &hall->model;
    m->footprint = (gradin_polygon){dot, 3};
    m->n_solid = m->n_focus = m->n_section = 0;
    m->seats.n_seat = 1;
    m->seats.floor_m[0] = (gradin_vec3){1, 1, 0};
    refuse(GRADIN_MAP_VISIBLE, 0);
}

Test(maps, maps_of_shades_need_shades) {
    cr_assert(gradin_map_applies(&hall->assessment, GRADIN_MAP_SHADE_GAIN));
    hall->assessment.shade_gain_db = NULL;
    cr_assert_not(gradin_map_applies(&hall->assessment, GRADIN_MAP_SHADE_GAIN));
    cr_assert(gradin_map_applies(&hall->assessment, GRADIN_MAP_LAMAX));
    cr_assert(gradin_map_applies(&hall->assessment, GRADIN_MAP_CLEAR_VIEW));
    hall->assessment.crowd.clear = NULL;
    cr_assert_not(gradin_map_applies(&hall->assessment, GRADIN_MAP_CLEAR_VIEW));
    cr_assert_not(gradin_map_applies(&hall->assessment, GRADIN_MAP_LAMAX_OPEN));
}

/* fontconfig keeps its set of fonts for a whole process, so a child looks at an empty one. */
Test(maps, missing_font_is_refused) {
    char config[] = "/tmp/gradin-fonts-XXXXXX";
    int fd = mkstemp(config);
    cr_assert_geq(fd, 0);
    static const char empty[] = "<?xml version=\"1.0\"?><fontconfig></fontconfig>";
    cr_assert_eq(write(fd, empty, sizeof empty - 1), (ssize_t)(sizeof empty - 1));
    close(fd);
    pid_t child = fork();
    if (child == 0) {
        unsigned char *bytes = NULL;
        size_t size = 0;
        gradin_error error = {0};
        setenv("FONTCONFIG_FILE", config, 1);
        gradin_status status =
            gradin_map_png(arena, &hall->assessment, GRADIN_MAP_RATING, 0, &bytes, &size, &error);
        bool is_clear = strstr(error.diagnostic[0].text, "DejaVu Sans is not installed") != NULL;
        _exit(status == GRADIN_IO_FAILED && is_clear && !bytes ? 0 : 1);
    }
    int how = 0;
    cr_assert_eq(waitpid(child, &how, 0), child);
    unlink(config);
    cr_assert(WIFEXITED(how) && WEXITSTATUS(how) == 0);
}

static int files_in(const char *dir, bool remove_them) {
    DIR *open_dir = opendir(dir);
    cr_assert_not_null(open_dir);
    int n = 0;
    for (struct dirent *entry; (entry = readdir(open_dir));) {
        if (entry->d_name[0] == '.') continue;
        char path[600];
        snprintf(path, sizeof path, "%s/%s", dir, entry->d_name);
        if (remove_them) unlink(path);
        n++;
    }
    closedir(open_dir);
    return n;
}

static void keep_one_map(void) {
    gradin_sight *s = &hall->assessment.sight;
    s->c_m = s->distance_m = s->turn_deg = s->visible = NULL;
    hall->assessment.crowd.clear = NULL;
    hall->model.axis_deg = NAN;
    hall->assessment.has_noise = false;
    hall->assessment.n_band = 0;
}

Test(maps, files_are_named_by_map_and_sheet) {
    char dir[] = "/tmp/gradin-maps-XXXXXX", path[300];
    cr_assert_not_null(mkdtemp(dir));
    int n = 0;
    hall->assessment.has_noise = false;
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED, GRADIN_PICTURE_PNG,
                                   dir, &n, NULL),
                 GRADIN_OK);
    cr_assert_eq(n, 18);
    snprintf(path, sizeof path, "%s/c_value-sheet2-upper.png", dir);
    cr_assert_eq(access(path, R_OK), 0);
    snprintf(path, sizeof path, "%s/octave_125hz-sheet1-main_floor.png", dir);
    cr_assert_eq(access(path, R_OK), 0);
    snprintf(path, sizeof path, "%s/third_1250hz-sheet2-upper.png", dir);
    cr_assert_eq(access(path, R_OK), 0);
    cr_assert_eq(files_in(dir, true), 18);
    keep_one_map();
    hall->model.seats.n_sheet = 1;
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED, GRADIN_PICTURE_PNG,
                                   dir, &n, NULL),
                 GRADIN_OK);
    snprintf(path, sizeof path, "%s/rating.png", dir);
    cr_assert_eq(access(path, R_OK), 0);
    cr_assert_eq(files_in(dir, true), 1);
    rmdir(dir);
}

Test(maps, a_full_disk_leaves_nothing) {
    char dir[] = "/tmp/gradin-maps-XXXXXX";
    cr_assert_not_null(mkdtemp(dir));
    int n = 7;
    gradin_error error = {0};
    keep_one_map();
    gradin_write_fail_at(1);
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED, GRADIN_PICTURE_PNG,
                                   dir, &n, &error),
                 GRADIN_IO_FAILED);
    cr_assert_eq(n, 0);
    cr_assert_eq(files_in(dir, true), 0);
    cr_assert_not_null(strstr(error.diagnostic[0].file, "rating-sheet1-main_floor.png"));
    gradin_write_fail_at(2);
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED, GRADIN_PICTURE_PNG,
                                   dir, &n, NULL),
                 GRADIN_IO_FAILED);
    cr_assert_eq(n, 1, "the first sheet stays whole");
    cr_assert_eq(files_in(dir, true), 1);
    rmdir(dir);
}

Test(maps, a_missing_folder_is_an_io_failure) {
    cr_assert_eq(gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED, GRADIN_PICTURE_PNG,
                                   "/tmp/gradin-none/such", NULL, NULL),
                 GRADIN_IO_FAILED);
}

Test(maps, every_failed_allocation_is_reported) {
    char dir[] = "/tmp/gradin-maps-XXXXXX";
    cr_assert_not_null(mkdtemp(dir));
    keep_one_map();
    int n = 0;
    long nth = 1;
    for (; nth < 200; nth++) {
        gradin_error error = {0};
        gradin_alloc_fail_at(nth);
        gradin_status status = gradin_maps_write(&hall->assessment, GRADIN_MAP_SCALE_FIXED,
                                                 GRADIN_PICTURE_PNG, dir, &n, &error);
        gradin_alloc_fail_at(0);
        if (status == GRADIN_OK) break;
        cr_assert_eq(status, GRADIN_NO_MEMORY, "allocation %ld: %s", nth,
                     gradin_status_name(status));
        cr_assert_eq(error.n_diagnostic, 1, "allocation %ld", nth);
        cr_assert_leq(files_in(dir, true), 1, "allocation %ld", nth);
    }
    cr_assert_gt(nth, 10);
    cr_assert_lt(nth, 200);
    cr_assert_eq(n, 2);
    files_in(dir, true);
    rmdir(dir);
}
