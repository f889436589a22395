/* What a seat hears of the layout's overflight: the event kernel's levels at that seat, the part of
 * it about the seat's A-weighted maximum. The mean square is straight between moments, as the
 * kernel takes it. A time weighting is for meters: the pass is worked out without it. */
#include "studies/listen/course.h"
#include "studies/shared/find_seat.h"

#include <string.h>

enum { RATE = GRADIN_LISTEN_RATE_HZ };

static gradin_status compute(gradin_arena *arena, const gradin_model *model,
                             const gradin_listen_options *options, gradin_recording *r,
                             gradin_event_levels *levels, gradin_error *error) {
    gradin_prepared_room room, shaded;
    gradin_traffic traffic;
    gradin_status status = gradin_pass_traffic(arena, model->pass, &traffic, error);
    traffic.weighting = GRADIN_WEIGHTING_NONE;
    if (status == GRADIN_OK)
        status = gradin_room_prepare(arena, model, options->cache_folder, &room, error);
    if (status == GRADIN_OK)
        status = gradin_room_shade(arena, &room, options->shades, &shaded, error);
    if (status != GRADIN_OK) return status;
    memcpy(r->cache_note, room.cache_note, sizeof r->cache_note);
    memcpy(r->room_note, room.room_note, sizeof r->room_note);
    status = gradin_gaps_find(model, &traffic, 0, 0, &r->gaps, error);
    if (status != GRADIN_OK) return status;
    return gradin_event_levels_compute(arena, &shaded, &traffic, &traffic.event[0], &r->seat, 1,
                                       levels, error);
}

/* The wanted length about the maximum, moved into the event's window, or all of a shorter one. */
static void choose_part(listen_course *course, int length_s) {
    const gradin_event_levels *l = &course->levels;
    int most = 0;
    for (int t = 1; t < l->n_time; t++)
        if (l->seat_db[t] > l->seat_db[most]) most = t;
    double first_s = l->time_s[0], last_s = l->time_s[l->n_time - 1];
    course->n_second = l->n_time == 1 ? length_s : (int)fmin(length_s, floor(last_s - first_s));
    double start_s = fmin(l->time_s[most] - 0.5 * course->n_second, last_s - course->n_second);
    course->start_s = fmax(start_s, first_s);
}

gradin_status listen_course_make(gradin_arena *arena, const gradin_model *model,
                                 const gradin_listen_options *options, gradin_recording *r,
                                 listen_course *course, gradin_error *error) {
    r->seat = study_find_seat(&model->seats, options->seat, error);
    if (r->seat < 0) return GRADIN_BAD_INPUT;
    gradin_status status = compute(arena, model, options, r, &course->levels, error);
    if (status != GRADIN_OK) return status;
    choose_part(course, options->length_s);
    if (course->n_second >= GRADIN_LISTEN_LEAST_S) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "the overflight passes in less than %d s; there is nothing to hear",
                            GRADIN_LISTEN_LEAST_S);
}

static double square_of(const gradin_event_levels *levels, int t, int band) {
    return pow(10.0, 0.1 * levels->seat_band_db[t * GRADIN_N_BAND + band]);
}

void listen_course_square(const listen_course *course, int band, float *square) {
    const gradin_event_levels *l = &course->levels;
    int t = 0, last = l->n_time - 1;
    double from = square_of(l, 0, band), to = square_of(l, last > 0 ? 1 : 0, band);
    for (int i = 0; i < course->n_second * RATE; i++) {
        double at_s = course->start_s + (i + 0.5) / RATE;
        while (t < last - 1 && at_s >= l->time_s[t + 1]) {
            t++;
            from = to;
            to = square_of(l, t + 1, band);
        }
        double span_s = last > 0 ? l->time_s[t + 1] - l->time_s[t] : 1.0;
        double share = last > 0 ? fmin(fmax((at_s - l->time_s[t]) / span_s, 0.0), 1.0) : 0.0;
        square[i] = (float)(from + share * (to - from));
    }
}

void listen_course_seconds(const listen_course *course, float *square,
                           gradin_listen_second *second) {
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        listen_course_square(course, band, square);
        for (int k = 0; k < course->n_second; k++) {
            double sum = 0.0;
            for (int i = 0; i < RATE; i++) sum += square[k * RATE + i];
            second[k].band_db[band] = 10.0 * log10(sum / RATE);
        }
    }
    for (int k = 0; k < course->n_second; k++) {
        second[k].from_s = GRADIN_LISTEN_TONE_S + GRADIN_LISTEN_PAUSE_S + k;
        second[k].event_s = course->start_s + k;
        second[k].a_dba = gradin_level_a_db(second[k].band_db);
    }
}
