/* Projects of 30 activities drawn in the style of the literature, where limits bind most (strength
 * 0.2): plan and bound meet at the usual budget, or lie no more than 2 % apart. */
#include "support/projects.h"

#include <criterion/criterion.h>

enum { NODES = 30000, N_SEED = 3, N_STYLE = 4 };

static double gap_percent(const project_style *style, uint64_t seed) {
    static project x;
    project_draw(&x, style, seed);
    schedule_problem p = project_problem(&x);
    schedule_result found;
    gradin_arena *arena = gradin_arena_create();
    cr_assert_eq(schedule_solve(arena, &p, &(schedule_budget){.n_node = NODES}, &found, NULL),
                 GRADIN_OK);
    const char *broken = project_broken_rule(&x, found.start_s, found.total_s);
    cr_assert_null(broken, "seed %d: %s", (int)seed, broken);
    cr_assert_leq(found.lower_bound_s, found.total_s);
    gradin_arena_destroy(arena);
    return 100.0 * (found.total_s - found.lower_bound_s) / found.lower_bound_s;
}

Test(drawn_projects, plan_and_bound_meet_where_limits_bind) {
    const project_style style[N_STYLE] = {
        {30, 1.5, 0.75, 0.2}, {30, 1.8, 0.75, 0.2}, {30, 1.8, 1.0, 0.2}, {30, 2.1, 1.0, 0.2}};
    int n_proven = 0;
    for (int i = 0; i < N_STYLE; i++)
        for (uint64_t seed = 1; seed <= N_SEED; seed++) {
            double gap = gap_percent(&style[i], seed);
            cr_expect_leq(gap, 2.0, "style %d, seed %d: %.1f %%", i, (int)seed, gap);
            n_proven += gap == 0.0;
        }
    cr_expect_geq(n_proven, 11, "%d proven", n_proven);
}
