/* What the noise of a layout's overflight is refused for, asked of each part that refuses. */
#include "acoustics/event/moments.h"
#include "acoustics/event/outside.h"
#include "acoustics/room/limits.h"
#include "acoustics/room/room.h"
#include "acoustics/transfer/transfer.h"
#include "base/use.h"
#include "gradin/acoustics/event.h"
#include "model/complete.h"

static gradin_status refuse_room(gradin_arena *arena, const gradin_model *model,
                                 gradin_error *error) {
    return model->room_method == GRADIN_ROOM_DIFFUSE ? gradin_diffuse_refuse(model, error)
                                                     : gradin_transfer_refuse(arena, model, error);
}

static gradin_status refuse_times(gradin_arena *arena, const gradin_model *model,
                                  gradin_error *error) {
    double factor[GRADIN_N_BAND];
    (void)arena;
    return gradin_reverberation_factors(model, factor, error);
}

static gradin_status refuse_track(gradin_arena *arena, const gradin_model *model,
                                  gradin_error *error) {
    gradin_traffic traffic;
    gradin_moments moments;
    gradin_status status = gradin_pass_traffic(arena, model->pass, &traffic, error);
    if (status != GRADIN_OK) return status;
    gradin_vec3 outside_m = gradin_outside_m(model, traffic.track);
    return gradin_moments_make(arena, traffic.track, outside_m, &moments, error);
}

gradin_status gradin_noise_check(gradin_arena *arena, const gradin_model *model,
                                 gradin_error *error) {
    gradin_status (*const part[])(gradin_arena *, const gradin_model *,
                                  gradin_error *) = {refuse_room, refuse_times, refuse_track};
    gradin_status worst = GRADIN_OK;
    if (NEEDS(error, arena) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!model->pass || model->n_element < 1) return GRADIN_OK;
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        gradin_status status = part[i](arena, model, error);
        if (status != GRADIN_OK && status != GRADIN_BAD_INPUT) return status;
        if (status != GRADIN_OK) worst = status;
    }
    return worst;
}
