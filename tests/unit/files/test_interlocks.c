/* Drives and interlocks of the small hall: read, refused, held against a layout. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static const char *const end_of_machines = "opening: [4, 10], trim: [3, 6], speed_ms: 0.02}\n";

static char text[1200];

/* The small hall with more lines under machines. */
static change with(const char *lines) {
    snprintf(text, sizeof text, "%s%s", end_of_machines, lines);
    return (change){"venue", end_of_machines, text};
}

static const change none = {0};

static void expect_refused(change a, change b, const char *line) {
    hall *h = hall_open(a, b);
    cr_expect_eq(h->status, GRADIN_BAD_INPUT, "accepted: %s", line);
    cr_expect_str_eq(hall_first(h), line);
    hall_close(h);
}

static const char *const low_only =
    "  interlocks:\n"
    "    - {name: slides low, machine: T slide, at: [0.1, 3], while: T hoist, within: [0, 0.5]}\n";

Test(interlocks, a_layout_that_breaks_one_is_refused_by_machine_and_rule) {
    expect_refused(with(low_only), (change){"layout", "hoist: 0, slide: 0", "hoist: 1, slide: 0.2"},
                   "layout.yaml:14:7: machines.towers[1]: interlock 'slides low': T slide stands "
                   "at 0.200 only while T hoist is within 0.000 to 0.500 m; it is at 1.000");
}

Test(interlocks, a_layout_that_keeps_it_is_not) {
    hall *h = hall_open(with(low_only),
                        (change){"layout", "hoist: 0, slide: 0", "hoist: 0.5, slide: 0.2"});
    cr_expect_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    cr_expect_eq(h->model.machinery->n_interlock, 1);
    hall_close(h);
    h = hall_open(with(low_only),
                  (change){"layout", "hoist: 0, slide: 0", "hoist: 1, slide: 0.05"});
    cr_expect_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    hall_close(h);
}

/* All sections of a grid hold, or a span of them; a terrace counts with all its treads. */
Test(interlocks, grids_and_spans_hold_with_every_tread) {
    static const char *const holders[] = {"L", "L-A1..L-B2", "L-A2"};
    for (int i = 0; i < 3; i++) {
        char lines[400];
        snprintf(lines, sizeof lines,
                 "  interlocks:\n"
                 "    - {name: lifts low, machine: T slide, at: [0.1, 3], while: %s, within: [-1, "
                 "0.6]}\n",
                 holders[i]);
        hall *h = hall_open(with(lines), (change){"layout", "slide: 0}", "slide: 0.2}"});
        cr_expect_eq(h->status, GRADIN_BAD_INPUT, "treads up to 0.7 m kept a limit of 0.6 m");
        cr_expect(strstr(hall_first(h), "interlock 'lifts low': T slide stands at 0.200 only while "
                                        "L-A"),
                  "%s", hall_first(h));
        hall_close(h);
    }
}

/* Every holder has to be within the range, not only the first: each section of the grid in turn is
 * the one that stands too high. */
Test(interlocks, every_holder_is_asked) {
    static const char *const sections[] = {"L-A1", "L-B1", "L-A2", "L-B2"};
    static const char was[] = "    - {from: L-A1, to: L-B2, height: 0.5,\n"
                              "       terrace: {steps: 2, riser: 0.2, facing_deg: 0}}\n"
                              "  towers:\n"
                              "    - {name: T, hoist: 0, slide: 0}\n";
    for (int high = -1; high < 4; high++) {
        char now[600] = "", line[120];
        for (int i = 0; i < 4; i++) {
            snprintf(line, sizeof line,
                     "    - {from: %s, to: %s, height: %s, terrace: {steps: 2, riser: 0.05, "
                     "facing_deg: 0}}\n",
                     sections[i], sections[i], i == high ? "0.7" : "0.5");
            strcat(now, line);
        }
        strcat(now, "  towers:\n    - {name: T, hoist: 0, slide: 0.2}\n");
        hall *h = hall_open(with("  interlocks:\n    - {name: lifts low, machine: T slide, at: "
                                 "[0.1, 3], while: L, within: [-1, 0.6]}\n"),
                            (change){"layout", was, now});
        if (high < 0) {
            cr_expect_eq(h->status, GRADIN_OK, "%s", hall_first(h));
        } else {
            snprintf(line, sizeof line, "while %s is within -1.000 to 0.600 m; it is at 0.700",
                     sections[high]);
            cr_expect_eq(h->status, GRADIN_BAD_INPUT, "%s may stand too high", sections[high]);
            cr_expect(strstr(hall_first(h), line), "%s", hall_first(h));
        }
        hall_close(h);
    }
}

Test(interlocks, bad_rules_are_refused) {
    expect_refused(with("  interlocks:\n    - {name: r, machine: T slid, while: T hoist, within: "
                        "[0, 1]}\n"),
                   none,
                   "venue.yaml:47:26: machines.interlocks[1].machine: unknown machine 'T slid'; "
                   "did you mean 'T slide'?");
    expect_refused(with("  interlocks:\n    - {name: r, machine: T slide, while: T hoist, within: "
                        "[3, 4]}\n"),
                   none,
                   "venue.yaml:47:7: machines.interlocks[1].within: T hoist never gets there");
    expect_refused(with("  interlocks:\n    - {name: r, machine: T slide, while: T hoist, within: "
                        "[1, 0]}\n"),
                   none,
                   "venue.yaml:47:59: machines.interlocks[1].within: runs from more to less; write "
                   "[least, most]");
}

Test(drives, are_read_with_the_trade_s_figures) {
    hall *h = hall_open((change){"venue", "hoist_speed_ms: 0.005\n",
                                 "hoist_speed_ms: 0.005\n"
                                 "      drive: {accel_ms2: 0.01, prepare_s: 60, mass_kg: 900, "
                                 "power_kw: 3, crew: 2, people_near: yes}\n"},
                        none);
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    const gradin_machinery *m = h->model.machinery;
    const gradin_machine *hoist = &m->machine[4]; /* after four sections */
    cr_expect_str_eq(hoist->name, "T hoist");
    cr_expect_float_eq(hoist->drive.speed_per_s, 0.005, 0.0);
    cr_expect_float_eq(hoist->drive.accel_per_s2, 0.01, 0.0);
    cr_expect_float_eq(hoist->drive.mass_kg, 900.0, 0.0);
    cr_expect_eq(hoist->drive.crew, 2);
    cr_expect(hoist->drive.are_people_near);
    cr_expect(!m->machine[5].drive.are_people_near);
    hall_close(h);
}

/* 40 s from shut to open are 1/40 of the way per second; 90 s likewise. */
Test(drives, of_doors_and_shades_are_read) {
    hall *h =
        hall_open((change){"venue", "buildup: pane, joint_r_db: 40}",
                           "buildup: pane, joint_r_db: 40, move_s: 40, "
                           "drive: {prepare_s: 30, mass_kg: 900, crew: 2, people_near: yes}}"},
                  (change){"venue", "close_s: 90}", "close_s: 90, drive: {power_kw: 2}}"});
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    const gradin_machine *shade = &h->model.machinery->machine[8], *door = shade + 1;
    cr_expect_str_eq(door->name, "door");
    cr_expect_float_eq(door->drive.speed_per_s, 1.0 / 40.0, 1e-12);
    cr_expect_float_eq(door->drive.prepare_s, 30.0, 0.0);
    cr_expect_float_eq(door->drive.mass_kg, 900.0, 0.0);
    cr_expect_eq(door->drive.crew, 2);
    cr_expect(door->drive.are_people_near);
    cr_expect_str_eq(shade->name, "dark");
    cr_expect_float_eq(shade->drive.speed_per_s, 1.0 / 90.0, 1e-12);
    cr_expect_float_eq(shade->drive.power_kw, 2.0, 0.0);
    hall_close(h);
}

Test(drives, every_machine_is_listed_once_with_its_setting) {
    static const char *const names[] = {"L-A1",    "L-B1",      "L-A2",         "L-B2", "T hoist",
                                        "T slide", "arch trim", "arch opening", "dark", "door"};
    hall *h = hall_open((change){"layout", "slide: 0}", "slide: 0.3}"}, none);
    const gradin_machinery *m = h->model.machinery;
    cr_assert_eq(m->n_machine, 10);
    for (int i = 0; i < 10; i++) cr_expect_str_eq(m->machine[i].name, names[i]);
    cr_expect_float_eq(m->machine[0].setting.position, 0.5, 1e-12);
    cr_expect_eq(m->machine[0].setting.n_step, 2);
    cr_expect_float_eq(m->machine[5].setting.position, 0.3, 1e-12);
    cr_expect_float_eq(m->machine[6].setting.position, 8.0, 1e-12); /* flown out: at the ceiling */
    hall_close(h);
}

Test(crew, needs_what_it_names) {
    expect_refused(with("  crew:\n    people: 4\n    seating:\n      - {name: c, kind: loose, "
                        "set_seats_person_hour: 10, strike_seats_person_hour: 20, crew: 6}\n"),
                   none,
                   "venue.yaml:49:9: machines.crew.seating[1].crew: takes 6 people; the venue's "
                   "crew has 4");
    expect_refused(with("  crew:\n    people: 4\n    seating:\n      - {name: c, kind: loose, "
                        "set_seats_person_hour: 10, strike_seats_person_hour: 20, crew: 2, stored: "
                        "yes}\n"),
                   none,
                   "venue.yaml:49:9: machines.crew.seating[1].stored: needs a store lift; add "
                   "'store'");
    expect_refused((change){"venue", "buildup: pane, shade: dark", "buildup: pane, move_s: 5"},
                   none, "venue.yaml:21:7: facade.glazing[1]: is fixed glass; doors move");
}
