/* How well one element of the envelope is known in place, as a standard uncertainty by band, dB.
 *
 * Its R as a laboratory would measure it (glazing/uncertainty.c), with 1.0 dB from sample to
 * product and 0.8 dB from product to building, as in the example of ISO 12999-1:2020, annex A. What
 * is predicted is known no better than 3.8 dB, what twelve real facades with estimated elements
 * scattered by when computed after EN 12354-3 (reference/noise-prediction). A vent's Dn,e is a
 * measurement; a generic construction is none. */
#include "acoustics/envelope/element.h"

static const double product_db = 1.0, building_db = 0.8, least_predicted_db = 3.8;

gradin_known gradin_element_known(const gradin_model *model, const gradin_element *element) {
    if (element->buildup < 0) return GRADIN_KNOWN_MEASURED;
    const gradin_buildup *buildup = &model->buildup[element->buildup];
    return buildup->is_measured && !buildup->generic ? GRADIN_KNOWN_MEASURED
                                                     : GRADIN_KNOWN_PREDICTED;
}

double gradin_element_uncertainty_db(const gradin_model *model, const gradin_element *element,
                                     const gradin_glass *glass, int band) {
    double sample_db = glass->uncertainty_db[band];
    double own_db =
        sqrt(sample_db * sample_db + product_db * product_db + building_db * building_db);
    bool is_predicted = gradin_element_known(model, element) == GRADIN_KNOWN_PREDICTED;
    return is_predicted ? fmax(own_db, least_predicted_db) : own_db;
}
