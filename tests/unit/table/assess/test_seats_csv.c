/* The seat table cell by cell. Form: RFC 4180 section 2 (rules 1, 5, 6, 7). */
#include "base/faults.h"
#include "unit/table/small_result.h"

#include "gradin/table.h"

#include <criterion/criterion.h>
#include <string.h>

enum { MAX_CELLS = 200, MAX_LINES = 8 };

typedef struct parsed {
    char text[16384];
    const char *cell[MAX_LINES][MAX_CELLS];
    int n_cell[MAX_LINES], n_line;
} parsed;

/* A reader of its own: cells in quotes keep commas, doubled quotes stand for one; lines end in CR
 * LF. */
static void parse(const char *csv, size_t size, parsed *p) {
    size_t out = 0, start = 0;
    bool quoted = false;
    memset(p, 0, sizeof *p);
    cr_assert_lt(size, sizeof p->text);
    for (size_t i = 0; i < size; i++) {
        char c = csv[i];
        if (c == '"') {
            if (quoted && csv[i + 1] == '"')
                p->text[out++] = csv[++i];
            else
                quoted = !quoted;
            continue;
        }
        bool end_of_line = !quoted && c == '\r';
        if (quoted || (c != ',' && !end_of_line)) {
            cr_assert_neq(c, '\n', "a bare line feed");
            p->text[out++] = c;
            continue;
        }
        p->text[out++] = '\0';
        p->cell[p->n_line][p->n_cell[p->n_line]++] = p->text + start;
        start = out;
        if (!end_of_line) continue;
        cr_assert_eq(csv[++i], '\n', "CR without LF");
        p->n_line++;
    }
    cr_assert_eq(out, start, "the last line has no line end");
}

static void table_of(const gradin_assessment *a, gradin_arena *arena, parsed *p) {
    char *csv = NULL;
    size_t size = 0;
    cr_assert_eq(gradin_seats_csv(arena, a, GRADIN_CSV_SI, &csv, &size, NULL), GRADIN_OK);
    cr_assert_eq(strlen(csv), size);
    parse(csv, size, p);
}

static const char *cell(const parsed *p, int seat, const char *name) {
    for (int k = 0; k < p->n_cell[0]; k++)
        if (strcmp(p->cell[0][k], name) == 0) return p->cell[seat + 1][k];
    cr_assert_fail("no column %s", name);
    return NULL;
}

static parsed p;

static void expect(int seat, const char *name, const char *value) {
    cr_assert_str_eq(cell(&p, seat, name), value, "seat %d, %s: '%s' and not '%s'", seat, name,
                     cell(&p, seat, name), value);
}

Test(seats_csv, header_names_are_pinned) {
    static const char header[] =
        "seat,block,level,row,number,kind,x_m,y_m,floor_z_m,eye_z_m,facing_deg,rating,reason,"
        "visible_pct,"
        "hidden_heads_pct,hidden_rails_pct,hidden_structure_pct,hidden_arch_pct,worst_occluder,"
        "worst_hidden_pct,both_eyes_pct,one_eye_pct,no_eye_pct,clear_view_pct,clear_view_se_pct,"
        "drawn_median_pct,drawn_p10_pct,c_class,c_case,c_line,c_mm,c_d_m,c_n_mm,c_r_m,c_t_m,c_row_"
        "mm,c_two_ahead_"
        "mm,front_seat,"
        "window_deg,rail,rail_c_mm,rail_d_m,rail_n_mm,rail_r_m,rail_t_m,standing_c_mm,"
        "standing_d_m,standing_n_mm,standing_r_m,standing_t_m,"
        "distance_m,nearest_m,off_axis_deg,down_deg,head_turn_deg,focus_width_deg,lamax_dba,"
        "lamax_open_dba,lamax_shut_dba,level_systematic_db,level_uncertainty_db,laeq_dba,nc,noise_"
        "excess_db,noise_verdict,loudest_element,l_50_hz_db,"
        "l_63_hz_db,l_80_hz_db,l_100_hz_db,l_125_hz_db,l_160_hz_db,l_200_hz_db,l_250_hz_db,"
        "l_315_hz_db,l_400_hz_db,l_500_hz_db,l_630_hz_db,l_800_hz_db,l_1000_hz_db,l_1250_hz_db,"
        "l_1600_hz_db,l_2000_hz_db,l_2500_hz_db,l_3150_hz_db,l_4000_hz_db,l_5000_hz_db,"
        "lamax_predicted_dba\r\n";
    gradin_arena *arena = gradin_arena_create();
    char *loud = NULL, *quiet = NULL;
    size_t size;
    cr_assert_eq(gradin_seats_csv(arena, small_result(), GRADIN_CSV_SI, &loud, &size, NULL),
                 GRADIN_OK);
    cr_assert_eq(gradin_seats_csv(arena, small_result_quiet(), GRADIN_CSV_SI, &quiet, &size, NULL),
                 GRADIN_OK);
    cr_assert_eq(strncmp(loud, header, strlen(header)), 0);
    cr_assert_eq(strncmp(quiet, header, strlen(header)), 0);
    gradin_arena_destroy(arena);
}

Test(seats_csv, every_line_has_every_cell) {
    gradin_arena *arena = gradin_arena_create();
    table_of(small_result(), arena, &p);
    cr_assert_eq(p.n_line, 1 + SMALL_SEATS);
    for (int k = 0; k < p.n_line; k++) cr_assert_eq(p.n_cell[k], p.n_cell[0], "line %d", k);
    gradin_arena_destroy(arena);
}

Test(seats_csv, figures_with_their_units_and_decimals) {
    gradin_arena *arena = gradin_arena_create();
    table_of(small_result(), arena, &p);
    expect(0, "block", "Stalls, \"left\"");
    expect(1, "kind", "wheelchair");
    expect(2, "row", "2");
    expect(2, "x_m", "1.000");      /* 1.0004 */
    expect(2, "y_m", "3.000");      /* 2.9996 */
    expect(1, "facing_deg", "0.0"); /* 359.96 */
    expect(2, "facing_deg", "90.0");
    expect(1, "visible_pct", "85.0");
    expect(2, "hidden_heads_pct", "50.0");
    expect(2, "hidden_rails_pct", "25.0");
    expect(2, "worst_occluder", "Stalls-1-1");
    expect(2, "worst_hidden_pct", "30.0");
    expect(2, "c_case", "row in front");
    expect(2, "c_mm", "-12");
    expect(2, "c_n_mm", "250");
    expect(2, "c_t_m", "1.000");
    expect(1, "c_row_mm", "71");
    expect(2, "c_row_mm", "-22");
    expect(1, "c_two_ahead_mm", "");
    expect(2, "c_two_ahead_mm", "153");
    expect(2, "front_seat", "Stalls-1-1");
    expect(0, "down_deg", "0.0"); /* no sign on a rounded zero */
    expect(0, "lamax_dba", "40.0");
    expect(2, "lamax_open_dba", "46.0");
    expect(2, "lamax_shut_dba", "40.0");
    expect(1, "nc", "27");
    expect(2, "noise_excess_db", "6.6");
    expect(2, "noise_verdict", "over");
    expect(0, "noise_verdict", "too near to tell");
    expect(1, "level_systematic_db", "3.2");
    expect(1, "level_uncertainty_db", "5.1");
    expect(2, "loudest_element", "smoke vent");
    expect(2, "l_50_hz_db", "20.0");
    expect(2, "l_5000_hz_db", "40.0");
    gradin_arena_destroy(arena);
}

Test(seats_csv, what_does_not_apply_is_empty) {
    static const char *const none[] = {"worst_occluder", "worst_hidden_pct", "c_mm",
                                       "c_d_m",          "c_two_ahead_mm",   "front_seat",
                                       "off_axis_deg",   "l_5000_hz_db"};
    gradin_arena *arena = gradin_arena_create();
    table_of(small_result(), arena, &p);
    for (size_t k = 0; k < sizeof none / sizeof none[0]; k++) expect(0, none[k], "");
    gradin_arena_destroy(arena);
}

Test(seats_csv, without_noise_its_cells_are_empty) {
    static const char *const none[] = {"lamax_dba",       "lamax_open_dba", "laeq_dba",    "nc",
                                       "loudest_element", "l_50_hz_db",     "l_5000_hz_db"};
    gradin_arena *arena = gradin_arena_create();
    table_of(small_result_quiet(), arena, &p);
    for (size_t k = 0; k < sizeof none / sizeof none[0]; k++) expect(2, none[k], "");
    expect(2, "rating", "poor");
    gradin_arena_destroy(arena);
}

Test(seats_csv, without_shades_open_and_shut_are_empty) {
    gradin_arena *arena = gradin_arena_create();
    gradin_assessment *a = small_result();
    gradin_model bare = *a->model;
    bare.n_shade = 0;
    a->model = &bare;
    table_of(a, arena, &p);
    expect(2, "lamax_open_dba", "");
    expect(2, "lamax_shut_dba", "");
    expect(2, "lamax_dba", "42.2");
    gradin_arena_destroy(arena);
}

Test(seats_csv, a_lack_of_memory_is_reported) {
    gradin_arena *arena = gradin_arena_create();
    char *csv = NULL;
    size_t size = 0;
    int n_failed = 0;
    for (long n = 1; n < 10; n++) {
        gradin_error error = {0};
        gradin_alloc_fail_at(n);
        gradin_status status =
            gradin_seats_csv(arena, small_result(), GRADIN_CSV_SI, &csv, &size, &error);
        gradin_alloc_fail_at(0);
        if (status == GRADIN_OK) break;
        cr_assert_eq(status, GRADIN_NO_MEMORY);
        cr_assert_eq(error.n_diagnostic, 1);
        n_failed++;
    }
    cr_assert_gt(n_failed, 0);
    cr_assert_lt(n_failed, 9, "never succeeded");
    gradin_arena_destroy(arena);
}

Test(seats_csv, null_arguments_are_refused) {
    gradin_arena *arena = gradin_arena_create();
    char *csv;
    size_t size;
    cr_assert_eq(gradin_seats_csv(NULL, small_result(), GRADIN_CSV_SI, &csv, &size, NULL),
                 GRADIN_BAD_USE);
    cr_assert_eq(gradin_seats_csv(arena, NULL, GRADIN_CSV_SI, &csv, &size, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_seats_csv(arena, small_result(), GRADIN_CSV_SI, NULL, &size, NULL),
                 GRADIN_BAD_USE);
    cr_assert_eq(gradin_seats_csv(arena, small_result(), GRADIN_CSV_SI, &csv, NULL, NULL),
                 GRADIN_BAD_USE);
    gradin_arena_destroy(arena);
}
