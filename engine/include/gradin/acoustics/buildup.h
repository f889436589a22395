/* gradin/acoustics/buildup.h: what glazing and shades are made of.
 *
 * Ownership and threads: A build-up points to layers that belong to the caller and must outlive
 * whatever uses it; nothing here is changed by the library, so any number of threads may read it.
 */
#ifndef GRADIN_BUILDUP_H
#define GRADIN_BUILDUP_H

#include "gradin/acoustics/room.h"
#include "gradin/machines.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_layer_kind {
    GRADIN_LAYER_PLATE,      /* glass or another plate in bending */
    GRADIN_LAYER_INTERLAYER, /* viscoelastic sheet glued to its neighbours */
    GRADIN_LAYER_GAP,        /* gas cavity */
    GRADIN_LAYER_POROUS,     /* fibres or open foam with a frame at rest */
    GRADIN_LAYER_SHEET       /* limp cloth or foil that air may pass */
} gradin_layer_kind;

/* Materials filled into layers that state none. Float glass: 2500 kg/m3, 0.24 and Young's modulus
 * by waves along the plate of 5200 m/s, so that fc h is 12.5 m Hz, and an inner loss within 0.003
 * to 0.006 (C. Hopkins, Sound Insulation, 2007, Table A2: reference/hopkins); what a frame takes
 * comes on top by theory. PVB: 1070 kg/m3, and gradin_pvb for its shear modulus; an acoustic
 * interlayer is far softer and states its own; loss of an interlayer that states a constant modulus
 * alone. Air at 20 degC; argon by the ideal gas law. */
#define GRADIN_GLASS_DENSITY_KGM3 2500.0
#define GRADIN_GLASS_YOUNG_PA 63.71e9
#define GRADIN_GLASS_POISSON 0.24
#define GRADIN_GLASS_LOSS 0.004
#define GRADIN_PVB_DENSITY_KGM3 1070.0
#define GRADIN_PVB_LOSS 0.3
#define GRADIN_GLAZING_TEMPERATURE_C 20.0
#define GRADIN_AIR_DENSITY_KGM3 1.2041
#define GRADIN_AIR_SPEED_MS 343.2
#define GRADIN_ARGON_DENSITY_KGM3 1.661
#define GRADIN_ARGON_SPEED_MS 319.0

enum { GRADIN_MAX_RELAXATION = 24 };

/* Shear modulus of a viscoelastic layer: generalised Maxwell chain (Prony series),
 * G = instant (1 - sum share + sum share jwt/(1 + jwt)), whose times shift with temperature by
 * log10 a = -wlf_c1 (T - reference)/(wlf_c2 + T - reference). */
typedef struct gradin_relaxation {
    int n_term;
    double instant_pa;                    /* of the fastest strain */
    double share[GRADIN_MAX_RELAXATION];  /* [n_term] of instant_pa, sum at most 1 */
    double time_s[GRADIN_MAX_RELAXATION]; /* [n_term] at the reference temperature */
    double wlf_c1, wlf_c2_k, reference_c;
} gradin_relaxation;

GRADIN_API extern const gradin_relaxation gradin_pvb; /* reference/pvb says from where */

/* Temperatures that an interlayer is worked out for. */
#define GRADIN_GLAZING_LEAST_C (-20.0)
#define GRADIN_GLAZING_MOST_C 60.0

typedef struct gradin_layer {
    gradin_layer_kind kind;
    double thickness_m; /* any positive value for a sheet */
    double density_kgm3;
    double young_pa; /* plate */
    double poisson;  /* plate */
    double loss; /* plate: internal loss factor; interlayer: shear loss factor beside shear_pa */
    double shear_pa; /* interlayer: shear modulus at every frequency, unless relaxation is set */
    double speed_ms; /* gap: speed of sound in the gas */
    const gradin_relaxation *relaxation; /* interlayer: NULL for the constant shear_pa */
    double resistivity_pasm2;            /* porous: static flow resistivity */
    double resistance_pasm;              /* sheet: flow resistance; INFINITY when airtight */
} gradin_layer;

/* What holds the panes of a build-up with gaps. */
typedef enum gradin_frames {
    GRADIN_FRAMES_BY_GAP,  /* a spacer up to 25 mm, else one frame: the less favourable */
    GRADIN_FRAMES_SPACER,  /* a sealed unit */
    GRADIN_FRAMES_JOINED,  /* panes in one frame, or in two frames of the same wall */
    GRADIN_FRAMES_SEPARATE /* frames in leaves of wall that stand apart and pass nothing on */
} gradin_frames;

/* Standard sample of a laboratory, ISO 10140-5 (from memory): the pane of a build-up that is asked
 * for without a size. */
#define GRADIN_SAMPLE_WIDTH_M 1.25
#define GRADIN_SAMPLE_HEIGHT_M 1.5

typedef struct gradin_buildup {
    const char *name;
    const gradin_layer *layer; /* [n_layer] outside to inside; NULL when only measured */
    int n_layer;
    double temperature_c; /* of its interlayers */
    gradin_frames frames;
    bool has_lined_reveals; /* absorbent round the gap between two panes */
    bool is_flush;          /* in the face of its wall, not in the depth of its opening */
    bool is_measured;       /* then the measurement wins over the layers */
    bool is_octave;         /* measured in octaves, each standing in its three thirds */
    double measured_r_db[GRADIN_N_BAND]; /* when is_measured: a run of bands, NAN beyond it */
    double sample_m2;                    /* area of the measured sample; NAN when not stated */
    const char *report;                  /* where the measurement comes from, or NULL */
    const char *measured_file; /* its name as the venue's file has it; NULL: cannot be written */
    const char *generic; /* the generic construction whose figures stand as measured, or NULL */
} gradin_buildup;

/* What the R in use rests on: "measured", "handbook" (a generic construction), "predicted". */
static inline const char *gradin_basis_name(const gradin_buildup *buildup) {
    if (buildup->generic) return "handbook";
    return buildup->is_measured ? "measured" : "predicted";
}

/* A roof, wall or door of a common kind by figures of a handbook. */
typedef struct gradin_construction {
    const char *name, *meaning, *source;
    double surface_kgm2;               /* NAN: not in the source */
    double octave_db[GRADIN_N_OCTAVE]; /* 63 Hz NAN where the source has none */
} gradin_construction;

/* All of them; *n gets their number. */
GRADIN_API const gradin_construction *gradin_constructions(int *n);
/* By name, or NULL. */
GRADIN_API const gradin_construction *gradin_construction_find(const char *name);
/* Makes the build-up one of that construction: each octave stands in its three thirds; 63 Hz, where
 * the source has none, lies 6 dB below 125 Hz, as by the mass law. */
GRADIN_API void gradin_buildup_be(gradin_buildup *buildup, const gradin_construction *construction);

typedef struct gradin_shade {
    const char *name;
    const gradin_layer *layer; /* [n_layer] from the glass into the room, or NULL */
    int n_layer;
    bool is_by_layers; /* no insertion loss is given: it follows from layers and glass */
    double insertion_loss_db[GRADIN_N_BAND]; /* unless is_by_layers */
    double absorption[GRADIN_N_BAND];        /* of the room side when closed */
    double closed;                           /* as set: 0 open .. 1 shut */
    gradin_drive drive;                      /* share per second */
} gradin_shade;

/* Build-ups without a model. */
typedef struct gradin_buildups {
    const char *source; /* the venue's name, or the name of the file of values */
    char digest[33];    /* of the files read, as in gradin_model */
    const gradin_buildup *buildup;
    int n_buildup;
    const gradin_shade *shade; /* [n_shade] of the venue */
    int n_shade;
    const char *const *note; /* [n_note] as in gradin_model */
    int n_note;
} gradin_buildups;

#ifdef __cplusplus
}
#endif

#endif
