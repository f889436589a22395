/* event/site.h: the envelope corrected by a measurement at the site. */
#ifndef GRADIN_EVENT_SITE_H
#define GRADIN_EVENT_SITE_H

#include "gradin/acoustics/event.h"

/* The site's D2m,nT, stated or from its levels: d_db[GRADIN_N_BAND]. */
void gradin_site_d2m_nt_db(const gradin_site *site, double *d_db);
/* Holds predicted_db against it, whose standard uncertainties are predicted_unsure_db; fills the
 * rest. */
void gradin_site_weigh(const gradin_site *site, gradin_calibration *calibration);
/* The same for a room of a model with a site: fills room->calibration and its uncertainty of the
 * envelope, and puts the correction on every glass[n_element]. */
void gradin_site_correct(gradin_prepared_room *room, gradin_glass *glass);
/* A-weighted level of bands as predicted, without the correction in them. */
double gradin_site_predicted_dba(const gradin_calibration *calibration, const double *band_db);

#endif
