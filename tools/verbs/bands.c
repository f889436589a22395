/* --bands LIST */
#include "command.h"

#include <stdio.h>
#include <string.h>

const char *const band_words[] = {"octaves", NULL};

static bool take_third(const char *item, gradin_band_choice *choice) {
    double hz;
    if (!gradin_parse_number(item, &hz)) return false;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (hz == gradin_band_nominal_hz(b)) return choice->third[b] = true;
    return false;
}

static bool take_item(const char *item, gradin_band_choice *choice) {
    if (strcmp(item, "octaves") != 0) return take_third(item, choice);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) choice->octave[o] = true;
    return true;
}

bool parse_bands(const char *verb, const char *text, gradin_band_choice *choice) {
    *choice = (gradin_band_choice){0};
    while (text) {
        char item[24];
        size_t length = strcspn(text, ",");
        snprintf(item, sizeof item, "%.*s", length < 20 ? (int)length : 20, text);
        if (!take_item(item, choice)) {
            say("%s: --bands has '%s'; allowed: octaves, and third octaves from 50 to 5000 (Hz, "
                "nominal), divided by commas",
                verb, item);
            return false;
        }
        text = text[length] == ',' ? text + length + 1 : NULL;
    }
    return true;
}
