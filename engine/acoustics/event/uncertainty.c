/* How far a predicted level inside may be from a measured one, as a standard uncertainty.
 *
 * Parts, taken as independent: level of one aircraft type from flight to flight in routine
 * operation, 3.8 to 4.9 dB (Bishop 1975), of which the lower end; facade by ISO 12354-3 and room by
 * diffuse-field theory, both from memory. */
#include "gradin/acoustics.h"

static const double source_scatter_db = 3.8, facade_method_db = 2.0, room_method_db = 2.0;

double gradin_noise_uncertainty_db(void) {
    return sqrt(source_scatter_db * source_scatter_db + facade_method_db * facade_method_db +
                room_method_db * room_method_db);
}

const char *gradin_noise_uncertainty_source(void) {
    return "routine overflights 3.8 dB (Bishop 1975), facade and room 2 dB each (from memory)";
}
