/* Times of moves. The speed profile is elementary kinematics; the trade's figures are common
 * practice, no source. */
#include "gradin/machines.h"
#include "support/reference.h"

#include <criterion/criterion.h>

/* Position after t, by adding up small steps of the speed profile: up at a to v, down at a to rest
 * at s. The time at which it rests must be the formula's. */
static double stepped_s(double s, double v, double a) {
    double x = 0.0, speed = 0.0, t = 0.0;
    const double dt = 1e-4;
    while (x < s) {
        bool brakes = speed * speed / (2.0 * a) >= s - x;
        speed = brakes ? speed - a * dt : fmin(v, speed + a * dt);
        if (speed <= 0.0) break;
        x += speed * dt;
        t += dt;
    }
    return t;
}

Test(move_time, follows_the_speed_profile) {
    static const double s_v_a[][3] = {{2.0, 0.05, 0.05},
                                      {0.02, 0.05, 0.05},
                                      {0.05, 0.05, 0.05},
                                      {6.0, 0.3, 0.02},
                                      {3.0, 0.5, 0.1}};
    for (size_t i = 0; i < sizeof s_v_a / sizeof *s_v_a; i++) {
        const double *c = s_v_a[i];
        gradin_drive d = {.speed_per_s = c[1], .accel_per_s2 = c[2]};
        double formula = gradin_move_s(c[0], &d), stepped = stepped_s(c[0], c[1], c[2]);
        cr_expect_float_eq(formula, stepped, 0.01 * formula, "s %g v %g a %g: %g, stepped %g", c[0],
                           c[1], c[2], formula, stepped);
    }
}

/* s 2 m, v 0.05 m/s, a 0.05 m/s2: 2/0.05 + 0.05/0.05 = 41 s, by hand. */
Test(move_time, worked_example) {
    gradin_drive d = {.speed_per_s = 0.05, .accel_per_s2 = 0.05};
    cr_expect_float_eq(gradin_move_s(2.0, &d), 41.0, 1e-12);
    cr_expect_float_eq(gradin_move_s(-2.0, &d), 41.0, 1e-12);
    cr_expect_float_eq(gradin_move_s(0.05, &d), 2.0, 1e-12); /* just reaches full speed */
}

/* Common practice, no source (reference/machinery): a seating tower on cables rises 6 m in 20 min
 * at the speed quoted there; a motorised blackout shade runs 8 m in the time quoted. */
Test(move_time, of_the_trade) {
    reference trade;
    reference_read("machinery/values.csv", &trade);
    int row = reference_row(&trade, "cable-flown seating tower speed");
    cr_assert_str_eq(reference_text(&trade, row, "unit"), "m/min");
    gradin_drive tower = {.speed_per_s = reference_number(&trade, row, "high") / 60.0};
    cr_expect_float_eq(gradin_move_s(6.0, &tower), 20.0 * 60.0, 1e-9);
    row = reference_row(&trade, "blackout shade 8 m drop");
    double drop_s = reference_number(&trade, row, "high");
    gradin_drive shade = {.speed_per_s = 8.0 / drop_s};
    cr_expect_float_eq(gradin_move_s(8.0, &shade), drop_s, 1e-9);
}

/* From three treads of 0.3 m facing north to the same facing east: flat (0.6 m at 0.05 m/s, 12 s),
 * a quarter turn, up again. */
Test(move_time, a_section_goes_flat_before_it_turns) {
    gradin_drive d = {.speed_per_s = 0.05, .turn_s = 180.0};
    gradin_setting north = {0.9, 3, 0.3, 0.0}, east = {0.9, 3, 0.3, 90.0};
    cr_expect_float_eq(gradin_setting_move_s(&north, &east, &d), 12.0 + 180.0 + 12.0, 1e-9);
    gradin_setting south = {0.9, 3, 0.3, 180.0}, flat = {0.0, 1, 0.0, 0.0};
    cr_expect_float_eq(gradin_setting_move_s(&north, &south, &d), 12.0 + 360.0 + 12.0, 1e-9);
    /* the top tread has the longest way: 1.5 m */
    cr_expect_float_eq(gradin_setting_move_s(&north, &flat, &d), 30.0, 1e-9);
    cr_expect(gradin_setting_equal(&north, &north));
    cr_expect(!gradin_setting_equal(&north, &east));
}
