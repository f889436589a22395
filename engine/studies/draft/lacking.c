/* What a form lacks on the floor of a venue without lifts: the side that has no row, and by which
 * length, or what is in its way. Of the choices with the longest rows and the least way before them
 * the one is told that lacks the least. */
#include "studies/draft/draft.h"

/* Rows lie on whole squares: what the floor has beyond them counts towards another. People who sit
 * on both sides share it. */
static double spare_m(const draft_job *job, const draft_bank *bank) {
    const gradin_lift_grid *g = job->plan;
    gradin_box2 b = job->floor_box;
    bool is_along_y = bank->quarter % 2 == 0;
    bool is_along_stage = (bank->quarter - job->quarter) % 2 == 0;
    gradin_form form = job->w->form;
    bool has_one = is_along_stage && (draft_is_end(form) || form == GRADIN_FORM_THRUST);
    double squares_m = is_along_y ? g->n_row * g->size_m[1] : g->n_column * g->size_m[0];
    double floor_m = is_along_y ? b.y_max_m - b.y_min_m : b.x_max_m - b.x_min_m;
    double beyond_m = is_along_stage && draft_is_end(form)
                          ? job->stage[3] * job->w->row_depth_m - job->w->stage_depth_m
                          : 0.0; /* squares of the stage that lie beyond the floor */
    return (floor_m - 2.0 * DRAFT_WALL_M - squares_m + beyond_m) / (has_one ? 1.0 : 2.0);
}

static draft_lack of_length(const draft_job *job, const draft_bank *bank, double length_m,
                            const char *of) {
    return (draft_lack){
        gradin_arena_print(job->arena, "%s lacks %.2f m of %s", bank->name, length_m, of),
        length_m};
}

/* What stands where the first row would be; NULL: nothing. */
static const char *in_the_way(const draft_job *job, const draft_bank *bank) {
    const char *name = NULL;
    for (int rank = 0; rank <= bank->is_front && !name; rank++) {
        gradin_vec2 corner_m[4];
        draft_box_corners(draft_rank_box(job, bank, rank), corner_m);
        name = draft_fixed_name(job->hall, (gradin_polygon){corner_m, 4}, DRAFT_LANDING_M);
    }
    return name;
}

static draft_lack of_cause(const char *text) {
    return (draft_lack){text, INFINITY};
}

static draft_lack lack_of(const draft_job *job, const draft_bank *bank) {
    const gradin_lift_grid *g = job->plan;
    bool is_along_x = bank->quarter % 2 == 0;
    int missing = 1 + bank->is_front * bank->n_first - draft_bank_depth(bank);
    int n = is_along_x ? bank->cells.c1 - bank->cells.c0 : bank->cells.r1 - bank->cells.r0;
    double short_m = missing * g->size_m[is_along_x] - spare_m(job, bank);
    double narrow_m = draft_least_row_m(job) - n * g->size_m[!is_along_x];
    if (missing > 0) return of_length(job, bank, short_m, "depth for its first row");
    const char *name = in_the_way(job, bank);
    if (name)
        return of_cause(gradin_arena_print(job->arena,
                                           "where %s would have its first row is %s or "
                                           "the floor before it",
                                           bank->name, name));
    if (narrow_m > 1e-6) return of_length(job, bank, narrow_m, "width for an aisle and 4 seats");
    return of_cause(gradin_arena_print(job->arena, "no row of %s is within the C and the platforms",
                                       bank->name));
}

bool draft_note_lack(draft_job *job, const draft_scheme *scheme) {
    const draft_choice *choice = &scheme->choice;
    bool is_least = choice->inset == 0 && choice->reach == 1 && choice->front == 0;
    if (!scheme->refused || job->main >= 0 || !is_least) return true;
    draft_lack lack = lack_of(job, scheme->refused);
    if (!lack.text) return false;
    if (!job->lack.text || lack.length_m < job->lack.length_m) job->lack = lack;
    return true;
}
