/* What a draft needs to know about the venue: the grid that carries the banks, how its sections lie
 * before the stage, what the exits allow. */
#include "studies/draft/draft.h"

#include <string.h>

gradin_status draft_no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the draft");
}

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

double draft_way_m(const draft_job *job) {
    return fmax(DRAFT_WAY_M, job->hall->rules.way_width_m);
}

/* Without lifts rows rise on platforms, whose heights the wishes state. */
static gradin_status check_floor(const draft_job *job) {
    bool is_flat = job->w->form == GRADIN_FORM_FLAT_FLOOR;
    if (is_flat || job->w->platform_step_m > 0.0) return GRADIN_OK;
    return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                            "%s has no lifts: rows rise on platforms, and the wishes state none "
                            "('platforms'); a flat_floor goes without",
                            job->hall->name);
}

static gradin_status check_lifts(const draft_job *job) {
    for (int i = 0; i < job->hall->n_grid; i++)
        if (job->hall->grid[i].bearing_deg != 0.0)
            return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                    "%s has lifts %s at a bearing; a draft is made of lifts that "
                                    "lie square to the plan",
                                    job->hall->name, job->hall->grid[i].name);
    if (job->w->platform_step_m > 0.0)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_PLATFORMS],
                                "are for a venue without lifts; %s has some", job->hall->name);
    return GRADIN_OK;
}

/* Seats with a way beside them. */
static gradin_status check_room(const draft_job *job) {
    gradin_box2 b = job->floor_box;
    double least_m = fmin(b.x_max_m - b.x_min_m, b.y_max_m - b.y_min_m);
    double needed_m = 2.0 * job->w->seat_width_m + draft_way_m(job);
    if (job->main >= 0 || least_m >= needed_m) return GRADIN_OK;
    return gradin_error_add(
        job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
        "%s is too narrow: its largest rectangle of free floor at height 0 is %.2f m wide, "
        "two seats and a way beside them take %.2f m",
        job->hall->name, least_m, needed_m);
}

gradin_status draft_read_hall(draft_job *job) {
    job->main = main_grid(job->hall);
    job->quarter = (int)(job->w->axis_deg / 90.0);
    job->step_m = strcmp(job->w->units, "ft") == 0 ? 0.025 * GRADIN_FOOT_M : 0.01;
    gradin_status status = job->main < 0 ? check_floor(job) : check_lifts(job);
    if (status != GRADIN_OK) return status;
    if (!draft_find_floor(job)) return draft_no_memory(job->error);
    status = check_room(job);
    if (status != GRADIN_OK) return status;
    const gradin_lift_grid *g = job->main < 0 ? draft_squares(job) : &job->hall->grid[job->main];
    bool is_north_south = job->quarter % 2 == 0;
    if (!g) return draft_no_memory(job->error);
    job->plan = g;
    job->n_across = is_north_south ? g->n_column : g->n_row;
    job->n_deep = is_north_south ? g->n_row : g->n_column;
    job->is_stage_grid = gradin_arena_alloc(job->arena, (size_t)job->hall->n_grid, sizeof(bool));
    job->limit = gradin_arena_alloc(job->arena, DRAFT_MAX_LIMIT, sizeof *job->limit);
    if (!job->is_stage_grid || !job->limit) return draft_no_memory(job->error);
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
