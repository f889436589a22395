/* What a draft needs to know about the venue: the grid that carries the banks, how its sections lie
 * before the stage, what the exits allow. */
#include "studies/draft/draft.h"

#include <string.h>

static const double WALL_M = 1.2;   /* kept free along the walls, to walk */
static const double SQUARE_M = 1.0; /* about the side of the squares */

static double area_m2(const gradin_lift_grid *g) {
    return g->n_column * g->size_m[0] * g->n_row * g->size_m[1];
}

/* The largest grid that terraces, else the largest. */
static int main_grid(const gradin_venue *hall) {
    int best = -1;
    for (int i = 0; i < hall->n_grid; i++) {
        const gradin_lift_grid *g = &hall->grid[i], *b = best < 0 ? NULL : &hall->grid[best];
        bool terraces = g->most_steps > 1;
        if (!b || terraces > (b->most_steps > 1) ||
            (terraces == (b->most_steps > 1) && area_m2(g) > area_m2(b) + 1e-9))
            best = i;
    }
    return best;
}

/* Exit width and people per metre, from the doors alone. A free door is checked on the finished
 * layout. */
static gradin_status read_exits(draft_job *job) {
    double mm = job->hall->rules.exit_mm_person, width_m = 0.0;
    job->most_seats = INT32_MAX;
    int n_door = 0;
    for (int i = 0; i < job->hall->n_facade; i++) {
        if (job->hall->facade[i].kind != GRADIN_ELEMENT_DOOR) continue;
        width_m += job->hall->facade[i].width_m;
        n_door++;
    }
    if (n_door == 0)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                "%s has no door: nobody could leave", job->hall->name);
    if (mm > 0.0) job->most_seats = (int)floor(width_m * 1000.0 / mm + 1e-9);
    return GRADIN_OK;
}

/* Squares over the floor, clear of the walls, for a venue without lifts. */
static const gradin_lift_grid *squares(draft_job *job) {
    gradin_lift_grid *g = gradin_arena_alloc(job->arena, 1, sizeof *g);
    gradin_box2 b = gradin_polygon_bounds(job->hall->footprint);
    double x_m = b.x_max_m - b.x_min_m - 2.0 * WALL_M, y_m = b.y_max_m - b.y_min_m - 2.0 * WALL_M;
    if (!g) return NULL;
    *g = (gradin_lift_grid){.name = "floor",
                            .origin_m = {b.x_min_m + WALL_M, b.y_min_m + WALL_M},
                            .n_column = (int)fmax(1.0, floor(x_m / SQUARE_M)),
                            .n_row = (int)fmax(1.0, floor(y_m / SQUARE_M)),
                            .most_steps = 1};
    g->size_m[0] = x_m / g->n_column;
    g->size_m[1] = y_m / g->n_row;
    return g;
}

/* Without lifts there are neither ranks nor a stage that rises. */
static gradin_status check_floor(const draft_job *job) {
    if (job->w->form != GRADIN_FORM_FLAT_FLOOR)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                "%s has no lifts; rows that rise are drafted on lift sections, a "
                                "flat_floor goes without",
                                job->hall->name);
    if (job->w->stage_height_m > 0.0)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_STAGE],
                                "is raised, and %s has no lifts to raise it: height 0 is needed",
                                job->hall->name);
    gradin_box2 b = gradin_polygon_bounds(job->hall->footprint);
    double least_m = fmin(b.x_max_m - b.x_min_m, b.y_max_m - b.y_min_m) - 2.0 * WALL_M;
    if (least_m < SQUARE_M)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                "%s is too narrow for seats and a way beside them",
                                job->hall->name);
    return GRADIN_OK;
}

gradin_status draft_read_hall(draft_job *job) {
    job->main = main_grid(job->hall);
    job->quarter = (int)(job->w->axis_deg / 90.0);
    job->step_m = strcmp(job->w->units, "ft") == 0 ? 0.025 * GRADIN_FOOT_M : 0.01;
    gradin_status status = job->main < 0 ? check_floor(job) : GRADIN_OK;
    if (status != GRADIN_OK) return status;
    for (int i = 0; i < job->hall->n_grid; i++)
        if (job->hall->grid[i].bearing_deg != 0.0)
            return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                    "%s has lifts %s at a bearing; a draft is made of lifts that "
                                    "lie square to the plan",
                                    job->hall->name, job->hall->grid[i].name);
    const gradin_lift_grid *g = job->main < 0 ? squares(job) : &job->hall->grid[job->main];
    bool is_north_south = job->quarter % 2 == 0;
    if (!g) return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the draft");
    job->plan = g;
    job->n_across = is_north_south ? g->n_column : g->n_row;
    job->n_deep = is_north_south ? g->n_row : g->n_column;
    job->is_stage_grid = gradin_arena_alloc(job->arena, (size_t)job->hall->n_grid, sizeof(bool));
    job->limit = gradin_arena_alloc(job->arena, DRAFT_MAX_LIMIT, sizeof *job->limit);
    if (!job->is_stage_grid || !job->limit)
        return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the draft");
    return read_exits(job);
}

draft_cells draft_cells_of(const draft_job *job, int i0, int i1, int j0, int j1) {
    const gradin_lift_grid *g = job->plan;
    switch (job->quarter) {
    case 0: /* the stage lies at the south and faces north */
        return (draft_cells){i0, i1, j0, j1};
    case 1:
        return (draft_cells){j0, j1, i0, i1};
    case 2:
        return (draft_cells){i0, i1, g->n_row - j1, g->n_row - j0};
    default:
        return (draft_cells){g->n_column - j1, g->n_column - j0, i0, i1};
    }
}

gradin_box2 draft_box(const draft_job *job, draft_cells cells) {
    const gradin_lift_grid *g = job->plan;
    return (gradin_box2){
        g->origin_m.x + cells.c0 * g->size_m[0], g->origin_m.y + cells.r0 * g->size_m[1],
        g->origin_m.x + cells.c1 * g->size_m[0], g->origin_m.y + cells.r1 * g->size_m[1]};
}

int draft_section_machine(const gradin_venue *hall, int grid, int column, int row) {
    return gradin_machine_index(hall, GRADIN_MACHINE_SECTION,
                                gradin_section_index(hall, grid, column, row));
}

bool draft_limit(draft_job *job, const char *text) {
    if (!text) return false;
    for (int i = 0; i < job->n_limit; i++)
        if (strcmp(job->limit[i], text) == 0) return true;
    if (job->n_limit < DRAFT_MAX_LIMIT) job->limit[job->n_limit++] = text;
    return true;
}
