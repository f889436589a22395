/* A finished canvas as SVG or PDF, by Cairo's own writers. What they would take from the clock is
 * set, so the same drawing gives the same bytes. */
#include "render/draw/encode.h"

#include <cairo-pdf.h>
#include <string.h>

static const char fixed_date[] = "2000-01-01T00:00:00Z";

gradin_status picture_check(gradin_picture format, gradin_error *error) {
    if ((int)format >= 0 && format < GRADIN_N_PICTURE) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no picture format %d",
                            (int)format);
}

static void write_metadata(cairo_surface_t *surface, const encode_note *note, int n_note) {
    for (int i = 0; i < n_note; i++) {
        if (strcmp(note[i].key, "Title") == 0)
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, note[i].text);
        if (strcmp(note[i].key, "Software") == 0)
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, note[i].text);
        if (strcmp(note[i].key, "Source") == 0)
            cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_KEYWORDS, note[i].text);
    }
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, fixed_date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, fixed_date);
}

gradin_status encode_picture(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                             const encode_note *note, int n_note, unsigned char **bytes,
                             size_t *size, gradin_error *error) {
    if (page->format == GRADIN_PICTURE_PNG)
        return encode_png(arena, scratch, page, note, n_note, bytes, size, error);
    if (page->format == GRADIN_PICTURE_PDF) write_metadata(page->surface, note, n_note);
    cairo_surface_finish(page->surface);
    cairo_status_t status = cairo_surface_status(page->surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return gradin_error_add(
            error, status == CAIRO_STATUS_NO_MEMORY ? GRADIN_NO_MEMORY : GRADIN_NUMERIC, NULL,
            "the picture cannot be written: %s", cairo_status_to_string(status));
    *size = page->stream->size;
    *bytes = gradin_arena_alloc(arena, *size, 1);
    if (!*bytes) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    memcpy(*bytes, page->stream->bytes, *size);
    return GRADIN_OK;
}

gradin_status picture_end(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                          gradin_status status, picture_of of, unsigned char **bytes, size_t *size,
                          gradin_error *error) {
    const encode_note note[] = {{"Title", of.title},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", of.layout},
                                {"Source", of.digest}};
    if (status == GRADIN_OK)
        status = encode_picture(arena, scratch, page, note, 4, bytes, size, error);
    canvas_close(page);
    return status;
}
