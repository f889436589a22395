#include "sky.h"

#include <criterion/criterion.h>

void sky_make(gradin_arena *arena, sky *s, double above_m, double speed_ms) {
    gradin_error error = {0};
    chamber_make(&s->c, 8.0, 6.0, 4.0, 0.3);
    s->c.model.room_method = GRADIN_ROOM_DIFFUSE;
    cr_assert(gradin_room_prepare(arena, &s->c.model, NULL, &s->room, &error) == GRADIN_OK, "%s",
              error.diagnostic[0].text);
    s->source = (gradin_class){.name = "bass", .reference_m = 100.0};
    for (int b = 0; b < GRADIN_N_BAND; b++) s->source.level_db[b] = b == BASS ? 100.0 : -50.0;
    for (int i = 0; i < 2; i++) {
        double x_m = i ? 40000.0 : -40000.0;
        s->point_m[i] = (gradin_vec3){x_m + 4.0, 3.0, 4.0 + above_m};
        s->time_s[i] = x_m / speed_ms;
    }
    s->track = (gradin_track){"pass", 2, s->time_s, s->point_m, 0.0, NAN};
    s->traffic = (gradin_traffic){.class_of = &s->source,
                                  .track = &s->track,
                                  .n_class = 1,
                                  .n_track = 1,
                                  .temperature_c = 20.0,
                                  .humidity_pct = 80.0,
                                  .pressure_kpa = 101.325};
}
