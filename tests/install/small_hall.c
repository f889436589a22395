/* A small invented hall made in memory: a bank of straight rows before a stage, raked so that each
 * row sees 60 mm over the heads before it. Assesses it and prints the table of its seats. */
#include <gradin/gradin.h>
#include <stdio.h>

enum { N_ROW = 8 };
static const gradin_vec2 room_m[] = {{0, 0}, {12, 0}, {12, 18}, {0, 18}};
static const gradin_vec2 stage_m[] = {{2, 13}, {10, 13}, {10, 17}, {2, 17}};

static gradin_venue hall(void) {
    gradin_venue venue = gradin_venue_defaults();
    venue.name = "Small hall";
    venue.footprint = (gradin_polygon){room_m, 4};
    venue.ceiling_m = 7.0;
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        venue.floor_absorption[band] = venue.wall_absorption[band] = 0.1;
        venue.ceiling_absorption[band] = 0.3;
        venue.seating_absorption[band] = 0.7;
    }
    return venue;
}

/* Rise of each row's floor over the one before; the focus is the front edge of the stage floor. */
static void rake(double eye_height_m, double row_depth_m, double *rise_m) {
    double eye_m[N_ROW];
    gradin_rake_constant_c(3.0, eye_height_m, row_depth_m, 0.06, N_ROW, eye_m);
    rise_m[0] = 0.0;
    for (int row = 1; row < N_ROW; row++) rise_m[row] = eye_m[row] - eye_m[row - 1];
}

static gradin_block bank(const double *rise_m) {
    gradin_block block = gradin_block_defaults(); /* straight rows on the floor */
    block.name = "Stalls";
    block.seat_width_m = 0.55;
    block.row_depth_m = 0.95;
    block.n_row = N_ROW, block.n_seat = 16;
    block.front_m = (gradin_vec2){6, 10};
    block.facing_deg = 0.0; /* north, towards the stage */
    block.rise_m = rise_m;
    return block;
}

static gradin_status assess(gradin_arena *arena, char **table, size_t *size, gradin_error *error) {
    gradin_assessment result;
    gradin_model model;
    gradin_layout layout;
    gradin_venue venue = hall();
    gradin_focus focus = gradin_focus_defaults(); /* on the floor */
    double rise_m[N_ROW];
    gradin_block block = bank(rise_m);
    gradin_status status = gradin_venue_complete(arena, &venue, error);
    if (status == GRADIN_OK) status = gradin_layout_defaults(arena, &venue, &layout, error);
    if (status != GRADIN_OK) return status;
    focus.name = "stage";
    focus.polygon = (gradin_polygon){stage_m, 4};
    rake(layout.audience.eye_height_m, block.row_depth_m, rise_m);
    layout.name = "End stage";
    layout.block = &block;
    layout.focus = &focus;
    layout.n_block = layout.n_focus = 1;
    status = gradin_model_build(arena, &venue, &layout, &model, error);
    if (status == GRADIN_OK) status = gradin_assess(arena, &model, NULL, &result, error);
    return status == GRADIN_OK ? gradin_seats_csv(arena, &result, GRADIN_CSV_SI, table, size, error)
                               : status;
}

int main(void) {
    static gradin_error error;
    gradin_arena *arena = gradin_arena_create();
    char *table, line[1024];
    size_t size;
    gradin_status status = arena ? assess(arena, &table, &size, &error) : GRADIN_NO_MEMORY;
    if (status == GRADIN_OK) fwrite(table, 1, size, stdout);
    for (int i = 0; i < error.n_diagnostic; i++) {
        gradin_diagnostic_format(&error.diagnostic[i], line, sizeof line);
        fprintf(stderr, "%s\n", line);
    }
    gradin_arena_destroy(arena);
    return (int)status;
}
