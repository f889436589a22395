/* room/radiosity.h: the sound that the room's patches send back. */
#ifndef GRADIN_ROOM_RADIOSITY_H
#define GRADIN_ROOM_RADIOSITY_H

#include "acoustics/room/exchange.h"

/* One band: (I - rho F) B = E for n_source sources at once.
 *
 * alpha[n] absorption of the patches, air_1m energy lost to air per metre. first[n_source][n]:
 * power that falls on each patch straight from the source. leaving[n_source][n] gets power a square
 * metre that each patch sends back. work is [n][n] + [n]. GRADIN_NUMERIC when the room absorbs
 * nothing at all. */
gradin_status gradin_radiosity_solve(const gradin_exchange *exchange, const gradin_patches *patches,
                                     const double *alpha, double air_1m, const double *first,
                                     int n_source, double *leaving, double *work,
                                     gradin_error *error);

/* exchange_m2[i][j] with what air takes on the way. */
double gradin_radiosity_through_air_m2(const gradin_exchange *exchange,
                                       const gradin_patches *patches, double air_1m, int i, int j);

#endif
