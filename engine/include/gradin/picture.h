/* gradin/picture.h: kinds of picture files.
 *
 * Ownership and threads: Nothing here owns anything. */
#ifndef GRADIN_PICTURE_H
#define GRADIN_PICTURE_H

#ifdef __cplusplus
extern "C" {
#endif

/* SVG and PDF are drawn by the same calls as PNG: lines and letters stay such, whatever the zoom.
 * The same input gives the same bytes; a PDF bears a date that never changes. */
typedef enum gradin_picture {
    GRADIN_PICTURE_PNG,
    GRADIN_PICTURE_SVG,
    GRADIN_PICTURE_PDF,
    GRADIN_N_PICTURE
} gradin_picture;

#ifdef __cplusplus
}
#endif

#endif
