/* The forms: where the stage stands on the main grid, and which sections a choice gives to banks of
 * rows. All forms keep the stage in the middle across the axis; thrust and round want a free
 * section on every side that people sit on. */
#include "studies/draft/draft.h"

#include <string.h>

static const double TOUCH_M = 0.05; /* grids this near are one floor */
static const double FOCUS_M = 0.5;  /* least side of what is looked at */

/* a0..a1 across from the grid's low end, d0..d1 away from its edge at the stage. */
static gradin_box2 frame_box(const draft_job *job, double a0, double a1, double d0, double d1) {
    const gradin_lift_grid *g = job->plan;
    gradin_box2 all = draft_box(job, (draft_cells){0, g->n_column, 0, g->n_row});
    switch (job->quarter) {
    case 0:
        return (gradin_box2){all.x_min_m + a0, all.y_min_m + d0, all.x_min_m + a1,
                             all.y_min_m + d1};
    case 1:
        return (gradin_box2){all.x_min_m + d0, all.y_min_m + a0, all.x_min_m + d1,
                             all.y_min_m + a1};
    case 2:
        return (gradin_box2){all.x_min_m + a0, all.y_max_m - d1, all.x_min_m + a1,
                             all.y_max_m - d0};
    default:
        return (gradin_box2){all.x_max_m - d1, all.y_min_m + a0, all.x_max_m - d0,
                             all.y_min_m + a1};
    }
}

static double side_across_m(const draft_job *job) {
    return job->plan->size_m[job->quarter % 2];
}
static double side_deep_m(const draft_job *job) {
    return job->plan->size_m[1 - job->quarter % 2];
}

/* Depth of the grids that carry on the floor behind the main grid's edge at the stage. */
static double find_stage_grids(draft_job *job) {
    double behind_m = 0.0;
    gradin_box2 strip = frame_box(job, 0.0, job->n_across * side_across_m(job), -TOUCH_M, 0.0);
    for (int i = 0; i < job->hall->n_grid; i++) {
        const gradin_lift_grid *g = &job->hall->grid[i];
        double x_m = g->n_column * g->size_m[0], y_m = g->n_row * g->size_m[1];
        gradin_box2 box = {g->origin_m.x, g->origin_m.y, g->origin_m.x + x_m, g->origin_m.y + y_m};
        job->is_stage_grid[i] = i != job->main && box.x_min_m < strip.x_max_m - 1e-6 &&
                                box.x_max_m > strip.x_min_m + 1e-6 &&
                                box.y_min_m < strip.y_max_m - 1e-6 &&
                                box.y_max_m > strip.y_min_m + 1e-6;
        if (job->is_stage_grid[i]) behind_m = fmax(behind_m, job->quarter % 2 == 0 ? y_m : x_m);
    }
    return behind_m;
}

static gradin_status refuse(const draft_job *job, gradin_wish wish, const char *text) {
    return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[wish], "%s", text);
}

/* Of a stage that takes too much, in the words of halls with lifts and of those without. */
static gradin_status refuse_stage(const draft_job *job, const char *lifts, const char *floor) {
    return refuse(job, GRADIN_WISH_STAGE, job->main < 0 ? floor : lifts);
}

/* Whole sections for a length, as many as keep the stage in the middle of `all`. */
static int centred(double length_m, double side_m, int all) {
    int n = (int)ceil(length_m / side_m - 1e-6);
    return (all - n) % 2 == 0 ? n : n + 1;
}

static void keep_stage(draft_job *job, int i0, int i1, int j0, int j1) {
    const int stage[4] = {i0, i1, j0, j1};
    memcpy(job->stage, stage, sizeof stage);
    job->stage_box = draft_box(job, draft_cells_of(job, i0, i1, j0, j1));
}

/* A stage on the floor is as large as it is wished, whatever squares it takes. */
static void keep_as_wished(draft_job *job, double before_m) {
    double middle_m = job->n_across * side_across_m(job) / 2.0,
           half_m = job->w->stage_width_m / 2.0;
    if (job->main >= 0) return;
    job->stage_box = frame_box(job, middle_m - half_m, middle_m + half_m, before_m,
                               before_m + job->w->stage_depth_m);
}

static gradin_status place_tongue(draft_job *job) {
    int n = centred(job->w->stage_width_m, side_across_m(job), job->n_across);
    int deep = (int)ceil(job->w->stage_depth_m / side_deep_m(job) - 1e-6);
    if (job->n_across - n < 2)
        return refuse_stage(job, "is too wide: no section is left beside it",
                            "is too wide: no floor is left beside it");
    if (job->n_deep - deep < 1)
        return refuse_stage(job, "is too deep: no section is left before it",
                            "is too deep: no floor is left before it");
    keep_stage(job, (job->n_across - n) / 2, (job->n_across + n) / 2, 0, deep);
    keep_as_wished(job, 0.0);
    return GRADIN_OK;
}

static gradin_status place_island(draft_job *job, int free_across) {
    int n = centred(job->w->stage_width_m, side_across_m(job), job->n_across);
    int deep = centred(job->w->stage_depth_m, side_deep_m(job), job->n_deep);
    if (job->n_across - n < free_across)
        return refuse_stage(job, "is too wide: the lifts leave nothing beside it",
                            "is too wide: no floor is left beside it");
    if (job->n_deep - deep < 2)
        return refuse_stage(job, "is too deep: no section is left before and behind it",
                            "is too deep: no floor is left before and behind it");
    keep_stage(job, (job->n_across - n) / 2, (job->n_across + n) / 2, (job->n_deep - deep) / 2,
               (job->n_deep + deep) / 2);
    keep_as_wished(job, (job->n_deep * side_deep_m(job) - job->w->stage_depth_m) / 2.0);
    return GRADIN_OK;
}

/* A whole end of the room: what the grids behind cannot cover comes from the main grid. */
static gradin_status place_end(draft_job *job, double behind_m) {
    double width_m = job->n_across * side_across_m(job), wanted_m = job->w->stage_width_m;
    double missing_m = job->w->stage_depth_m - behind_m;
    int deep = missing_m > 1e-6 ? (int)ceil(missing_m / side_deep_m(job) - 1e-6) : 0;
    if (wanted_m > width_m + 1e-6)
        return refuse_stage(job, "is wider than the lifts", "is wider than the free floor");
    if (job->n_deep - deep < 1)
        return refuse_stage(job, "is too deep: no section is left before it",
                            "is too deep: no floor is left before it");
    keep_stage(job, 0, job->n_across, 0, deep);
    double front_m = deep * side_deep_m(job);
    job->stage_box = frame_box(job, (width_m - wanted_m) / 2.0, (width_m + wanted_m) / 2.0,
                               front_m - job->w->stage_depth_m, front_m);
    return GRADIN_OK;
}

static gradin_status check_height(const draft_job *job) {
    double height_m = job->w->stage_height_m;
    for (int i = 0; i < job->hall->n_grid; i++) {
        const gradin_lift_grid *g = &job->hall->grid[i];
        bool counts = i == job->main ? job->stage[3] > job->stage[2] : job->is_stage_grid[i];
        if (counts && (height_m > g->travel_m[1] + 1e-9 || height_m < g->travel_m[0] - 1e-9))
            return refuse(job, GRADIN_WISH_STAGE, "is higher than its lifts rise");
    }
    return GRADIN_OK;
}

static gradin_status find_focus(draft_job *job) {
    double inset_m = job->w->focus_inset_m;
    gradin_box2 box = job->stage_box;
    bool has_back = draft_is_end(job->w->form) || job->w->form == GRADIN_FORM_THRUST;
    const double back_m = has_back ? 0.0 : inset_m; /* so that nobody sits behind it */
    box.x_min_m += job->quarter == 1 ? back_m : inset_m;
    box.x_max_m -= job->quarter == 3 ? back_m : inset_m;
    box.y_min_m += job->quarter == 0 ? back_m : inset_m;
    box.y_max_m -= job->quarter == 2 ? back_m : inset_m;
    if (box.x_max_m - box.x_min_m < FOCUS_M || box.y_max_m - box.y_min_m < FOCUS_M)
        return refuse(job, GRADIN_WISH_STAGE, "leaves nothing to look at within focus_inset");
    job->focus_box = box;
    job->focus_z_m = job->w->stage_height_m + job->w->focus_above_m;
    return GRADIN_OK;
}

gradin_status draft_place_stage(draft_job *job) {
    double behind_m = find_stage_grids(job);
    gradin_status status = GRADIN_OK;
    switch (job->w->form) {
    case GRADIN_FORM_THRUST:
        status = place_tongue(job);
        break;
    case GRADIN_FORM_ROUND:
        status = place_island(job, 2);
        break;
    case GRADIN_FORM_TRAVERSE:
        status = place_island(job, 0);
        break;
    default:
        status = place_end(job, behind_m);
    }
    if (status == GRADIN_OK && !draft_is_end(job->w->form) && job->w->form != GRADIN_FORM_THRUST)
        memset(job->is_stage_grid, 0, (size_t)job->hall->n_grid * sizeof *job->is_stage_grid);
    if (status == GRADIN_OK) status = check_height(job);
    return status == GRADIN_OK ? find_focus(job) : status;
}

static const char *const side_name[4] = {"South", "West", "North", "East"}; /* by facing */

/* Do the aisles of a bank open onto floor that leads on, and not against the stage? */
static bool leads_out(const draft_job *job, const draft_scheme *scheme, int side) {
    const draft_choice *choice = &scheme->choice;
    return ((choice->front | choice->walk | choice->gap) & side) || draft_is_stage_level(job);
}

/* Ranks left free before a bank: one of lifts, or as many rows as make a way. */
static int gap_of(const draft_job *job, const draft_scheme *scheme, int side) {
    double way_m = scheme->choice.reach * draft_way_m(job);
    int n = job->main < 0 ? (int)ceil(way_m / job->w->row_depth_m - 1e-6) : 1;
    return scheme->choice.gap & side ? n : 0;
}

/* On the floor there is room to turn to: people sit on every side that the form has. */
static bool add_bank(const draft_job *job, draft_scheme *scheme, draft_cells cells, int quarter,
                     int side) {
    bool front = side == DRAFT_FRONT, is_empty = cells.c1 <= cells.c0 || cells.r1 <= cells.r0;
    if (is_empty && job->main >= 0) return true;
    draft_bank *bank = &scheme->bank[scheme->n_bank];
    bool is_stalls = job->w->form == GRADIN_FORM_END_STAGE;
    *bank = (draft_bank){.name = is_stalls ? "Stalls" : side_name[quarter],
                         .cells = cells,
                         .quarter = quarter,
                         .is_front = scheme->choice.front & side};
    bank->free_m = gap_of(job, scheme, side) * job->plan->size_m[1 - quarter % 2];
    if (!leads_out(job, scheme, side)) return false;
    draft_rake_bank(job, bank, scheme->choice.depth, scheme->choice.walk & side);
    if (!is_empty) draft_cut_aisles(job, bank);
    scheme->n_bank += bank->n_seat > 0;
    if (bank->n_seat == 0) scheme->refused = bank;
    return (!front && job->main >= 0) || bank->n_seat > 0;
}

/* The bank before the stage, its people facing it. */
static bool add_front(const draft_job *job, draft_scheme *scheme, int i0, int i1) {
    return add_bank(
        job, scheme,
        draft_cells_of(job, i0, i1, job->stage[3] + gap_of(job, scheme, DRAFT_FRONT), job->n_deep),
        (job->quarter + 2) % 4, DRAFT_FRONT);
}

static bool add_back(const draft_job *job, draft_scheme *scheme, int i0, int i1) {
    return add_bank(job, scheme,
                    draft_cells_of(job, i0, i1, 0, job->stage[2] - gap_of(job, scheme, DRAFT_BACK)),
                    job->quarter, DRAFT_BACK);
}

/* People at the low end look up along `across`, which runs east or north. */
static bool add_sides(const draft_job *job, draft_scheme *scheme, int j0, int j1) {
    int towards = job->quarter % 2 == 0 ? 1 : 0;
    int gap = gap_of(job, scheme, DRAFT_SIDES), low = job->stage[0] - gap,
        high = job->stage[1] + gap;
    return add_bank(job, scheme, draft_cells_of(job, 0, low, j0, j1), towards, DRAFT_SIDES) &&
           add_bank(job, scheme, draft_cells_of(job, high, job->n_across, j0, j1), towards + 2,
                    DRAFT_SIDES);
}

bool draft_make_banks(const draft_job *job, draft_scheme *scheme) {
    int p = scheme->choice.inset, n = job->n_across;
    const int *s = job->stage;
    switch (job->w->form) {
    case GRADIN_FORM_END_STAGE:
        return 2 * p < n && add_front(job, scheme, p, n - p);
    case GRADIN_FORM_THRUST: /* the inset leaves the sides free beside the back of the stage */
        return p < s[3] && add_front(job, scheme, s[0], s[1]) && add_sides(job, scheme, p, s[3]);
    case GRADIN_FORM_ROUND:
        return p == 0 && add_front(job, scheme, s[0], s[1]) && add_back(job, scheme, s[0], s[1]) &&
               add_sides(job, scheme, s[2], s[3]);
    default:
        return 2 * p < n && add_front(job, scheme, p, n - p) && add_back(job, scheme, p, n - p);
    }
}
