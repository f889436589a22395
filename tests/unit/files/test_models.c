/* Layouts read together: one venue file opened once, and the same models as one by one. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/inotify.h>
#include <unistd.h>

static const change none = {0};

/* How often the file was opened since the watch began. Closings are watched, too: the kernel merges
 * equal events that follow each other. */
static int openings(int watch) {
    char events[4096];
    ssize_t size = read(watch, events, sizeof events);
    int n = 0;
    for (ssize_t at = 0; at < size;) {
        struct inotify_event event;
        memcpy(&event, &events[at], sizeof event);
        n += (event.mask & IN_OPEN) != 0;
        at += (ssize_t)sizeof event + (ssize_t)event.len;
    }
    return n;
}

static int watch_openings(const char *path) {
    int watch = inotify_init1(IN_NONBLOCK);
    cr_assert(watch >= 0 && inotify_add_watch(watch, path, IN_OPEN | IN_CLOSE_NOWRITE) >= 0);
    return watch;
}

Test(models, share_the_venue_that_they_name) {
    hall *one = hall_open(none, none);
    cr_assert_eq(one->status, GRADIN_OK, "%s", hall_first(one));
    char layout[128];
    strcpy(layout, hall_path("layout.yaml"));
    const char *const path[3] = {layout, layout, layout};
    gradin_model *model = calloc(3, sizeof *model);
    int watch = watch_openings(hall_path("venue.yaml"));
    cr_assert_eq(gradin_models_read(one->arena, path, 3, model, &one->error), GRADIN_OK);
    cr_expect_eq(openings(watch), 1);
    close(watch);
    for (int i = 0; i < 3; i++) {
        cr_expect_str_eq(model[i].digest, one->model.digest);
        cr_expect_eq(model[i].n_note, one->model.n_note);
        cr_expect_eq(model[i].seats.n_seat, one->model.seats.n_seat);
        cr_expect_eq(model[i].section[0].grid, model[0].section[0].grid);
        cr_expect_neq(model[i].machinery, one->model.machinery);
    }
    free(model);
    hall_close(one);
}

/* A measured build-up: its CSV goes into the digest, its octaves into the notes, each time. */
Test(models, what_a_venue_s_files_bring_comes_again) {
    hall *one = hall_open((change){"venue", "layers: [{glass_mm: 8}]", "measured: pane.csv"}, none);
    FILE *csv = fopen(hall_path("pane.csv"), "w");
    cr_assert(csv);
    fputs("band_hz,r_db\n63,20\n125,22\n250,25\n500,30\n1000,34\n2000,36\n4000,38\n", csv);
    fclose(csv);
    char layout[128];
    strcpy(layout, hall_path("layout.yaml"));
    const char *const path[2] = {layout, layout};
    gradin_model alone, *model = calloc(2, sizeof *model);
    gradin_error_clear(&one->error);
    cr_assert_eq(gradin_model_read(one->arena, layout, &alone, &one->error), GRADIN_OK, "%s",
                 hall_first(one));
    cr_assert_eq(gradin_models_read(one->arena, path, 2, model, &one->error), GRADIN_OK);
    unlink(hall_path("pane.csv"));
    cr_assert_eq(alone.n_note, 1);
    for (int i = 0; i < 2; i++) {
        cr_expect_str_eq(model[i].digest, alone.digest);
        cr_assert_eq(model[i].n_note, 1);
        cr_expect_str_eq(model[i].note[0], alone.note[0]);
    }
    free(model);
    hall_close(one);
}

Test(models, the_first_that_is_wrong_stops) {
    hall *one = hall_open(none, none);
    char layout[128];
    strcpy(layout, hall_path("layout.yaml"));
    const char *const path[2] = {"/nowhere/layout.yaml", layout};
    gradin_model model[2];
    cr_expect_eq(gradin_models_read(one->arena, path, 2, model, &one->error), GRADIN_BAD_INPUT);
    cr_expect_eq(one->error.n_diagnostic, 1);
    cr_expect_eq(gradin_models_read(one->arena, NULL, 2, model, &one->error), GRADIN_BAD_USE);
    cr_expect_eq(gradin_model_read(one->arena, NULL, model, &one->error), GRADIN_BAD_USE);
    hall_close(one);
}
