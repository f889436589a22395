/* Kinds of pictures by their words, and which of them a name asks for. */
#include "command.h"

#include <string.h>

const char *const format_words[] = {
    [GRADIN_PICTURE_PNG] = "png", [GRADIN_PICTURE_SVG] = "svg", [GRADIN_PICTURE_PDF] = "pdf", NULL};
const char *const format_names[] = {
    [GRADIN_PICTURE_PNG] = "PNG", [GRADIN_PICTURE_SVG] = "SVG", [GRADIN_PICTURE_PDF] = "PDF"};

bool picture_of_name(const char *verb, const char *name, gradin_picture *format) {
    size_t length = strlen(name);
    for (int i = 0; i < GRADIN_N_PICTURE; i++)
        if (length > 4 && name[length - 4] == '.' &&
            strcmp(name + length - 3, format_words[i]) == 0) {
            *format = (gradin_picture)i;
            return true;
        }
    say("%s: --out is '%s'; the name of a picture that ends in .png, .svg or .pdf is needed", verb,
        name);
    return false;
}

const char *picture_file(gradin_arena *arena, const char *stem, int format) {
    return gradin_arena_print(arena, "%s.%s", stem, format_words[format]);
}
