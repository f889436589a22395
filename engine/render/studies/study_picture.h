/* render/studies/study_picture.h: a page of a study, from an empty canvas to the bytes. */
#ifndef GRADIN_RENDER_STUDY_PICTURE_H
#define GRADIN_RENDER_STUDY_PICTURE_H

#include "gradin/study.h"
#include "render/draw/canvas.h"

/* Draws on an open page; `user` is what is drawn. */
typedef void (*study_draw)(canvas *page, void *user);

/* A picture of PAGE_WIDTH x height in the arena, with the study's name and digest among its notes.
 */
gradin_status study_picture(gradin_arena *arena, const gradin_study *study, gradin_picture format,
                            double height, study_draw draw, void *user, unsigned char **bytes,
                            size_t *size, gradin_error *error);

#endif
