/* How panes are held: what their edges take, pass on and radiate.
 *
 * Loss of bending waves at the edges (L. Cremer, M. Heckl, B. Petersson, "Structure-Borne Sound",
 * 3rd ed., 2005; EN 12354-1 Annex C has the same form; from memory): with perimeter U, area S and a
 * share alpha that an edge takes in,
 *   eta = c U alpha/(pi2 S sqrt(f fc)),  alpha = min(1, knee fc/f)
 * so that a pane is damped the more the thicker it is. Above knee fc alpha falls with the square of
 * the bending wavelength, since a bead of putty or a gasket is as wide as it is.
 *
 * Forced motion ends at an edge, too: it sends free bending waves into the pane, and with them goes
 * half (hinged) or all (clamped edge) of the energy m v2/2 that they would carry at the velocity v
 * of the forced motion. Seen as a resistance that is m cB U/S, cB their speed. It sets how sharp
 * the mass-air-mass resonance of two panes is; a single one gains 1 to 2 dB by it in the lowest
 * bands.
 *
 * Slow free waves radiate from the edges. Clamped edges radiate twice what hinged ones do (F. G.
 * Leppington, E. G. Broadbent, K. H. Heron, Proc. R. Soc. A 382 (1982) 245-271, from memory), and a
 * pane deep in a wall, whose reveals stand before its edges, twice that of one flush with its
 * baffle; the same on both sides, so that the gain counts squared (diffuse.c).
 *
 * Gap: reveals of absorption alpha take rho c alpha U/(pi S) along the panes, from the decay of a
 * flat room, c alpha U/(pi S).
 *
 * Four values were chosen among a few each, on all sources together, and the error printed in
 * reference/glazing comes from choosing them with each source left out in turn: knee, absorption of
 * bare reveals, and the two of coupling. The rest is theory. Two frames in the same wall are joined
 * by it: a handbook's double windows "in separate frames" pass on what joined ones do, 10 dB and
 * more above separate ones at 500 Hz and 1 kHz (reference/bies-2017). Limits: edges all alike; a
 * spacer unit is hinged, other panes clamped (common practice, no source). */
#include "acoustics/glazing/tmm.h"
#include "gradin/acoustics/glazing.h"

#include <pthread.h>

static const double spacer_most_m = 0.025; /* widest gap of a sealed unit (common practice) */
static const double bare_absorption = 0.1, lined_absorption = 1.0;

const glazing_method gradin_glazing_method = {.limit_deg = 78.0,
                                              .mount_knee = 1.0,
                                              .rim = 1.0,
                                              .edge_gain = 4.0,
                                              .lateral_pasm2 = 40.0,
                                              .gap_loss = 0.003,
                                              .coupling = 0.045,
                                              .coupling_most = 0.45,
                                              .tolerance = 0.05,
                                              .n_frequency = 8};

static glazing_spatial_window sample;
static pthread_once_t sample_once = PTHREAD_ONCE_INIT;

static void make_sample(void) {
    gradin_glazing_spatial_window_make(GRADIN_SAMPLE_WIDTH_M, GRADIN_SAMPLE_HEIGHT_M, &sample);
}

const glazing_spatial_window *gradin_glazing_sample(void) {
    pthread_once(&sample_once, make_sample);
    return &sample;
}

double gradin_glazing_rim_1m(const glazing_spatial_window *window) {
    return 2.0 * (window->width_m + window->height_m) / (window->width_m * window->height_m);
}

double gradin_mount_loss(const glazing_method *method, double sine2, double f_hz) {
    double taken = fmin(1.0, method->mount_knee * sine2); /* fc/f is sine2 */
    return GRADIN_AIR_SPEED_MS * gradin_glazing_rim_1m(method->window) * taken /
           (GRADIN_PI * GRADIN_PI * f_hz * sqrt(sine2));
}

static double widest_gap_m(const gradin_buildup *buildup) {
    double widest_m = 0.0;
    if (!buildup->layer) return 0.0;
    for (int i = 0; i < buildup->n_layer; i++)
        if (buildup->layer[i].kind == GRADIN_LAYER_GAP)
            widest_m = fmax(widest_m, buildup->layer[i].thickness_m);
    return widest_m;
}

gradin_frames gradin_glazing_frames(const gradin_buildup *buildup) {
    if (!buildup) return GRADIN_FRAMES_BY_GAP;
    double widest_m = widest_gap_m(buildup);
    if (buildup->frames != GRADIN_FRAMES_BY_GAP || !(widest_m > 0.0)) return buildup->frames;
    return widest_m > spacer_most_m ? GRADIN_FRAMES_JOINED : GRADIN_FRAMES_SPACER;
}

glazing_method gradin_glazing_mounted(const gradin_buildup *buildup,
                                      const glazing_spatial_window *window) {
    glazing_method method = gradin_glazing_method;
    gradin_frames frames = gradin_glazing_frames(buildup);
    bool is_hinged = frames == GRADIN_FRAMES_SPACER;
    double absorption = buildup->has_lined_reveals ? lined_absorption : bare_absorption;
    method.window = window;
    method.rim = is_hinged ? 0.5 : 1.0;
    method.edge_gain = (is_hinged ? 1.0 : 2.0) * (buildup->is_flush ? 1.0 : 2.0);
    method.lateral_pasm2 = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS * absorption *
                           gradin_glazing_rim_1m(window) / GRADIN_PI;
    if (frames == GRADIN_FRAMES_SEPARATE) method.coupling = 0.0;
    return method;
}
