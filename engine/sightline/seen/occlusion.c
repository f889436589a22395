/* Fractions of the focus hidden from one eye, by the first occluder met on the way to each sample.
 * Samples are counted in whole numbers area by area and weighed by the area's share afterwards, so
 * that a full view is exactly the sum of shares and the order of occluders does not matter. */
#include "sightline/seen/occlusion.h"

bool gradin_sight_occlusion_scratch(gradin_arena *arena, const gradin_model *model,
                                    const sight_focus *focus, const gradin_mask_scene *scene,
                                    sight_occlusion_scratch *scratch) {
    size_t n_name = (size_t)model->n_occluder_name;
    scratch->scene = scene;
    scratch->mask = gradin_mask_scratch_create(arena, focus->grid, focus->n_area);
    scratch->first = gradin_arena_alloc(arena, (size_t)focus->n_sample, sizeof *scratch->first);
    scratch->tally = gradin_arena_alloc(arena, n_name, sizeof *scratch->tally);
    scratch->touched = gradin_arena_alloc(arena, n_name, sizeof *scratch->touched);
    scratch->by_name = gradin_arena_alloc(arena, n_name, sizeof *scratch->by_name);
    scratch->area_visible =
        gradin_arena_alloc(arena, (size_t)focus->n_area, sizeof *scratch->area_visible);
    return scratch->area_visible && scratch->mask && scratch->first && scratch->tally &&
           scratch->touched && scratch->by_name;
}

/* Adds what one area's samples say; returns the new count of names in scratch->touched. */
static int count_area(const gradin_model *model, const sight_focus *focus, int area, int n_touched,
                      sight_occlusion_scratch *scratch, sight_occlusion *seen) {
    int count[GRADIN_N_CAUSE] = {0}, n_clear = 0;
    int from = focus->first_sample[area], to = focus->first_sample[area + 1];
    double each = focus->share[area] / (to - from);
    for (int i = from; i < to; i++) {
        if (scratch->first[i] == GRADIN_CLEAR) {
            n_clear++;
            continue;
        }
        const gradin_occluder *occluder = &model->scene.occluder[scratch->first[i]];
        count[occluder->cause]++;
        if (scratch->tally[occluder->name]++ == 0 && scratch->by_name[occluder->name] == 0.0)
            scratch->touched[n_touched++] = occluder->name;
    }
    scratch->area_visible[area] = n_clear == to - from ? 1.0 : (double)n_clear / (to - from);
    seen->visible += n_clear == to - from ? focus->share[area] : each * n_clear;
    seen->c_heads += focus->c_part[area] / (to - from) * count[GRADIN_CAUSE_HEAD];
    for (int cause = 0; cause < GRADIN_N_CAUSE; cause++) seen->hidden[cause] += each * count[cause];
    for (int k = 0; k < n_touched; k++) {
        int name = scratch->touched[k];
        scratch->by_name[name] += each * scratch->tally[name];
        scratch->tally[name] = 0;
    }
    return n_touched;
}

/* The name that hides most, if it hides what samples tell from nothing. Where a second one hides as
 * much within what they tell apart, none is named: which of the two came out ahead would change
 * with the number of samples. Clears the scratch. */
static void find_worst(sight_occlusion_scratch *scratch, int n_touched, sight_occlusion *seen) {
    double second = 0.0;
    seen->worst_occluder = -1;
    for (int k = 0; k < n_touched; k++) {
        int name = scratch->touched[k];
        double hidden = scratch->by_name[name];
        scratch->by_name[name] = 0.0;
        second = fmax(second, fmin(hidden, seen->worst_hidden));
        if (hidden <= seen->worst_hidden) continue;
        seen->worst_hidden = hidden;
        seen->worst_occluder = name;
    }
    if (seen->worst_hidden < GRADIN_TELLS_APART)
        seen->worst_occluder = -1;
    else if (seen->worst_hidden - second < GRADIN_TELLS_APART)
        seen->worst_occluder = GRADIN_NONE_CLEARLY;
}

sight_occlusion gradin_sight_occlusion(const gradin_model *model, const sight_focus *focus,
                                       int seat, bool use_reference,
                                       sight_occlusion_scratch *scratch) {
    gradin_vec3 eye = model->seats.eye_m[seat];
    sight_occlusion seen = {0};
    if (use_reference)
        gradin_visibility_reference(&model->scene, eye, seat, focus->sample_m, focus->n_sample,
                                    scratch->first);
    for (int area = 0; !use_reference && area < focus->n_area; area++)
        gradin_mask_first(scratch->scene, focus->grid[area], eye, seat,
                          scratch->first + focus->first_sample[area], scratch->mask);
    int n_touched = 0;
    for (int area = 0; area < focus->n_area; area++)
        n_touched = count_area(model, focus, area, n_touched, scratch, &seen);
    find_worst(scratch, n_touched, &seen);
    return seen;
}
