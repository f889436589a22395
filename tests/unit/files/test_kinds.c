/* Towers that take after a kind: what each states wins, key by key, also within maps. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <string.h>

static const char *const own_keys =
    "      hoist: [0, 2]\n"
    "      hoist_speed_ms: 0.005\n"
    "      slide: {bearing_deg: 270, range: [0, 3], speed_ms: 0.02}\n";

static change entry(const char *lines) {
    return (change){"venue", own_keys, lines};
}

static const change kinds = {
    "venue", "machines:\n",
    "machines:\n"
    "  kinds:\n"
    "    towers:\n"
    "      - {name: plain, width: 9, hoist: [0, 2], hoist_speed_ms: 0.005,\n"
    "         slide: {range: [0, 1], speed_ms: 0.02}}\n"};

static const gradin_machine *machine(const hall *h, const char *name) {
    const gradin_machinery *all = h->model.machinery;
    for (int i = 0; i < all->n_machine; i++)
        if (strcmp(all->machine[i].name, name) == 0) return &all->machine[i];
    cr_assert_fail("no machine %s", name);
    return NULL;
}

Test(kinds, an_entry_s_own_keys_win_also_within_maps) {
    hall *h = hall_open(kinds, entry("      kind: plain\n"
                                     "      slide: {bearing_deg: 270, range: [0, 3]}\n"));
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    const gradin_machine *hoist = machine(h, "T hoist"), *slide = machine(h, "T slide");
    cr_expect(hoist->travel[1] == 2.0 && hoist->drive.speed_per_s == 0.005);
    cr_expect(slide->travel[1] == 3.0 && slide->drive.speed_per_s == 0.02);
    hall *plain = hall_open((change){0}, (change){0});
    cr_expect_eq(h->model.seats.n_seat, plain->model.seats.n_seat); /* the tower's own width: 2.2 */
    hall_close(plain);
    hall_close(h);
}

static void expect_refused(change a, change b, const char *line, int n) {
    hall *h = hall_open(a, b);
    cr_expect_eq(h->status, GRADIN_BAD_INPUT, "accepted: %s", line);
    cr_expect_str_eq(hall_first(h), line);
    cr_expect_eq(h->error.n_diagnostic, n, "%s", h->error.diagnostic[1].text);
    hall_close(h);
}

Test(kinds, what_is_wrong_is_told_once_where_it_stands) {
    const change uses =
        entry("      kind: plain\n      slide: {bearing_deg: 270, range: [0, 3]}\n");
    expect_refused(kinds, entry("      kind: plane\n"),
                   "venue.yaml:41:13: machines.towers[1].kind: unknown kind 'plane'; did you mean "
                   "'plain'?",
                   1);
    expect_refused((change){0}, entry("      kind: plain\n"),
                   "venue.yaml:37:13: machines.towers[1].kind: unknown kind 'plain'; there is none",
                   1);
    expect_refused((change){"venue", "machines:\n",
                            "machines:\n  kinds:\n    towers:\n      - {name: plain, hoist: 2}\n"},
                   uses,
                   "venue.yaml:29:30: machines.kinds.towers[1].hoist: must be a list, not a single "
                   "value",
                   1);
    expect_refused(
        (change){"venue", "machines:\n",
                 "machines:\n  kinds:\n    towers:\n      - {name: plain, kind: tall}\n"},
        uses,
        "venue.yaml:29:9: machines.kinds.towers[1].kind: stands in a kind; kinds take "
        "after none",
        1);
    expect_refused(kinds, entry("      kind: plain\n"),
                   "venue.yaml:30:17: machines.kinds.towers[1].slide.bearing_deg: is missing", 1);
}
