/* Live loads of people: a named source.
 *
 * EN 1991-1-1 (2002), table 6.2, recommended values (from memory): C2, areas with fixed seats, 4.0;
 * C5, areas susceptible to large crowds, 5.0; C4, areas with physical activities such as
 * stages, 5.0 kN/m2. ASCE 7 (from memory): assembly areas, fixed seats 60 psf, lobbies and movable
 * seats 100 psf, stage floors 150 psf; 1 psf = 0.04788 kN/m2. A person counts 75 kg, as in a lift's
 * rated load (EN 81-20, from memory). National annexes and local codes may ask for more: then the
 * venue states its own. */
#include "gradin/venue.h"

static const gradin_occupancy sources[GRADIN_N_OCCUPANCY] = {
    {.source = "EN 1991-1-1, categories C2, C5, C4 (from memory)",
     .load_kn_m2 = {4.0, 5.0, 5.0},
     .person_kg = 75.0},
    {.source = "ASCE 7, assembly: 60, 100, 150 psf (from memory)",
     .load_kn_m2 = {2.87, 4.79, 7.18},
     .person_kg = 75.0}};

gradin_occupancy gradin_occupancy_of(gradin_occupancy_source source) {
    bool is_there = (int)source >= 0 && source < GRADIN_N_OCCUPANCY;
    return sources[is_there ? source : GRADIN_OCCUPANCY_EN_1991_1_1];
}
