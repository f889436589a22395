/* Several layouts read, rated by one brief if one is given, and assessed. */
#include "command.h"
#include "gradin/acoustics/event.h"
#include "gradin/files.h"
#include "progress.h"

static void tell_layout(int i, int n) {
    if (n > 1) progress_step("layout %d of %d", i + 1, n);
}

gradin_status assess_files(gradin_arena *arena, const char *const *file, int n, const char *brief,
                           const gradin_assess_options *how, gradin_model *model,
                           gradin_assessment *assessment, const gradin_assessment **assessed,
                           gradin_error *error) {
    gradin_kept_room kept = {0}; /* rooms and glass that follow each other may be the same */
    gradin_assess_options keeping = *how;
    keeping.kept = &kept;
    keeping.sight.progress = progress_count;
    keeping.sight.progress_user = progress_seats;
    gradin_status status = gradin_models_read(arena, file, n, model, error);
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        tell_layout(i, n);
        if (brief) status = gradin_brief_read(arena, brief, &model[i], error);
        if (status == GRADIN_OK)
            status = gradin_assess(arena, &model[i], &keeping, &assessment[i], error);
        assessed[i] = &assessment[i];
    }
    gradin_kept_room_clear(&kept);
    return status;
}
