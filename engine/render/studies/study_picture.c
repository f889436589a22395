/* A page of a study, from an empty canvas to the bytes. */
#include "render/studies/study_picture.h"
#include "render/draw/encode.h"

gradin_status study_picture(gradin_arena *arena, const gradin_study *study, gradin_picture format,
                            double height, study_draw draw, void *user, unsigned char **bytes,
                            size_t *size, gradin_error *error) {
    canvas page;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = canvas_open_as(&page, scratch, format, PAGE_WIDTH, height, 1.0, error);
    if (status == GRADIN_OK) {
        draw(&page, user);
        status = canvas_status(&page, error);
    }
    const encode_note note[] = {{"Title", study->name},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Description", study->digest}};
    if (status == GRADIN_OK)
        status = encode_picture(arena, scratch, &page, note, 3, bytes, size, error);
    canvas_close(&page);
    gradin_arena_destroy(scratch);
    return status;
}
