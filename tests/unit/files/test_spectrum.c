/* Spectra of sources: thirds or octaves, inline or from a file. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const char thirds[] =
    "  level_db: [70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70,\n"
    "             70, 70, 70, 70, 70, 70, 70]\n";

static void write_csv(const char *text) {
    gradin_error error = {0};
    cr_assert_eq(gradin_write_file(hall_path("spectrum.csv"), text, strlen(text), &error),
                 GRADIN_OK);
}

static hall *with(const char *spectrum) {
    return hall_open((change){"pass", thirds, spectrum}, (change){0});
}

/* An octave of 74.77 dB is three thirds of 70 dB. */
Test(spectrum, octaves_are_spread_over_their_thirds) {
    hall *h = with("  level_db: [74.7712, 80, 80, 80, 80, 80, 60]\n");
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    const gradin_pass *pass = h->model.pass;
    cr_assert(pass->is_octave);
    for (int b = 0; b < 3; b++) cr_assert(fabs(pass->level_db[b] - 70.0) < 1e-4);
    cr_assert(fabs(pass->level_db[3] - 75.2288) < 1e-4);
    cr_assert(fabs(pass->level_db[20] - 55.2288) < 1e-4);
    hall_close(h);
    h = with(thirds);
    cr_assert(!h->model.pass->is_octave && h->model.pass->level_db[20] == 70.0);
    hall_close(h);
}

Test(spectrum, from_a_file) {
    char text[512] = "band_hz,level_db\n";
    for (int b = 0; b < GRADIN_N_BAND; b++)
        sprintf(text + strlen(text), "%d,%d\n", gradin_band_nominal_hz(b), 50 + b);
    write_csv(text);
    hall *h = with("  level_file: spectrum.csv\n");
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    cr_assert(!h->model.pass->is_octave);
    for (int b = 0; b < GRADIN_N_BAND; b++) cr_assert_eq(h->model.pass->level_db[b], 50.0 + b);
    hall_close(h);
    write_csv("band_hz,level_db\n63,70\n125,71\n250,72\n500,73\n1000,74\n2000,75\n4000,76\n");
    h = with("  level_file: spectrum.csv\n");
    cr_assert(h->model.pass->is_octave);
    cr_assert(fabs(h->model.pass->level_db[19] - 76.0 + 4.7712) < 1e-4);
    hall_close(h);
    unlink(hall_path("spectrum.csv"));
}

static void refuse(const char *csv, const char *wanted) {
    write_csv(csv);
    hall *h = with("  level_file: spectrum.csv\n");
    cr_assert_eq(h->status, GRADIN_BAD_INPUT);
    cr_expect_str_eq(hall_first(h), wanted);
    hall_close(h);
    unlink(hall_path("spectrum.csv"));
}

Test(spectrum, bad_files) {
    refuse(
        "band_hz,level_db\n63,70\n250,70\n",
        "spectrum.csv:3:1: bands must be the thirds from 50 to 5000 Hz, or the octaves from 63 to "
        "4000 Hz, in order");
    refuse("band_hz,level_db\n50,190\n", "spectrum.csv:2:1: level_db must lie between -50 and 180");
    refuse("band_hz,level_db\n50,loud\n", "spectrum.csv:2:1: needs two numbers: band_hz,level_db");
}
