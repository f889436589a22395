/* What the uncertainty of a level inside is made of, taken as independent parts:
 *
 * source: of a class's stated level, and the scatter of its events, as the traffic's file states
 * them; envelope: envelope/uncertainty.c, each element by its share of what the seats hear in a
 * band when every square metre of the envelope gets as much; room: 2 dB (from memory), and what a
 * diffuse field errs by in a room that is not diffuse (room/limits.c). */
#include "acoustics/event/uncertainty.h"
#include "acoustics/bands/bands.h"
#include "acoustics/envelope/element.h"

static const double room_method_db = 2.0;

/* Elements known in one way err together, those known in different ways do not. */
static double envelope_db(const gradin_prepared_room *room, int band) {
    double part[GRADIN_N_KNOWN] = {0.0}, sum = 0.0, square = 0.0;
    for (int e = 0; e < room->model->n_element; e++) {
        const gradin_element *element = &room->model->element[e];
        double heard = room->tau_m2[e][band] * room->heard_1m2[e][band];
        part[gradin_element_known(room->model, element)] +=
            heard * gradin_element_uncertainty_db(room->model, element, &room->glass[e], band);
        sum += heard;
    }
    for (int k = 0; k < GRADIN_N_KNOWN && sum > 0.0; k++) square += part[k] * part[k] / (sum * sum);
    return sqrt(square);
}

void gradin_uncertainty_prepare(gradin_prepared_room *room, double beyond_db) {
    room->uncertainty = (gradin_uncertainty){.room_db = hypot(room_method_db, beyond_db)};
    for (int b = 0; b < GRADIN_N_BAND; b++) room->uncertainty.envelope_db[b] = envelope_db(room, b);
}

gradin_uncertainty gradin_uncertainty_with(const gradin_prepared_room *room,
                                           const gradin_traffic *traffic, int class_index) {
    if (!room || !traffic || !traffic->class_of || class_index < 0 ||
        class_index >= traffic->n_class)
        return (gradin_uncertainty){.source_db = NAN, .scatter_db = NAN, .room_db = NAN};
    gradin_uncertainty all = room->uncertainty;
    all.source_db = traffic->source_uncertainty_db;
    all.scatter_db = traffic->class_of[class_index].scatter_db;
    return all;
}

static double root_of(double a, double b, double c, double d) {
    return sqrt(a * a + b * b + c * c + d * d);
}

double gradin_envelope_uncertainty_db(const gradin_uncertainty *uncertainty,
                                      const double *band_db) {
    if (!uncertainty || !band_db) return NAN;
    double energy = 0.0, moved = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double own = gradin_a_energy(b) * pow(10.0, 0.1 * band_db[b]);
        energy += own;
        moved += own * uncertainty->envelope_db[b];
    }
    return energy > 0.0 ? moved / energy : 0.0;
}

double gradin_systematic_db(const gradin_uncertainty *uncertainty, const double *band_db) {
    if (!uncertainty || !band_db) return NAN;
    return root_of(uncertainty->source_db, uncertainty->room_db,
                   gradin_envelope_uncertainty_db(uncertainty, band_db), 0.0);
}

double gradin_band_uncertainty_db(const gradin_uncertainty *uncertainty, int first, int last) {
    if (!uncertainty || first < 0 || last >= GRADIN_N_BAND || first > last) return NAN;
    double envelope = 0.0;
    for (int b = first; b <= last; b++)
        envelope += uncertainty->envelope_db[b] / (last - first + 1);
    return root_of(uncertainty->source_db, uncertainty->room_db, envelope, uncertainty->scatter_db);
}

const char *gradin_uncertainty_source(void) {
    return "source and scatter as the traffic states them, else the example of ISO 1996-2 and "
           "Bishop 1975; envelope measured after ISO 12999-1, predicted after published glazing "
           "and "
           "twelve real facades, where predictions were 3.8 dB too good on average; room from "
           "memory";
}
