/* A person drawn from published anthropometry: women and men from ANSUR II 2012 (Gordon et al.,
 * NATICK/TR-15/007), children of about ten from memory; means and standard deviations in
 * reference/anthropometry. Every size is normal, independent of the others and cut at three
 * standard deviations. The eye stands about the layout's eye height, which is the mean of the mix:
 * by how far the sitting eye differs from the mean of all, less a slump that is even between none
 * and the most. Neck, chin and the drop of the shoulders follow the layout's figures. Limits: sizes
 * of one person do go together in life; nobody leans, wears a hat or moves.
 */
#include "sightline/audience/person.h"

#include "base/philox.h"

#define CUT 3.0

typedef struct size {
    double mean_m, sd_m;
} size;

typedef struct body {
    size sitting_eye, crown, head_breadth, head_length, shoulder_breadth;
} body;

static const body women = {
    {.7477, .0304}, {.1089, .0082}, {.1478, .0052}, {.1898, .0074}, {.4503, .0287}};
static const body men = {
    {.8045, .0332}, {.1138, .0090}, {.1543, .0055}, {.1995, .0070}, {.5104, .0325}};
static const body children = {
    {.6250, .0400}, {.1080, .0080}, {.1420, .0060}, {.1840, .0070}, {.3300, .0280}};

/* Strictly between 0 and 1. */
static double even(uint32_t word) {
    return ((double)word + 0.5) / 4294967296.0;
}

/* Two normal values: G. E. P. Box, M. E. Muller, Annals of Mathematical Statistics 29 (1958) 610.
 */
static void normal(uint32_t a, uint32_t b, double z[2]) {
    double radius = sqrt(-2.0 * log(even(a))), angle = 2.0 * GRADIN_PI * even(b);
    z[0] = fmin(fmax(radius * cos(angle), -CUT), CUT);
    z[1] = fmin(fmax(radius * sin(angle), -CUT), CUT);
}

static double at(size s, double z) {
    return s.mean_m + s.sd_m * z;
}

static const body *kind_of(const gradin_population *p, double share) {
    if (share < p->women) return &women;
    return share < p->women + p->men || p->children <= 0.0 ? &men : &children;
}

static double mean_sitting_eye_m(const gradin_population *p) {
    return p->women * women.sitting_eye.mean_m + p->men * men.sitting_eye.mean_m +
           p->children * children.sitting_eye.mean_m;
}

gradin_audience gradin_draw_person(const gradin_audience *audience, uint32_t seed, int draw,
                                   int seat) {
    const gradin_population *population = &audience->population;
    const uint32_t key[2] = {seed, 0};
    const uint32_t counter[2][4] = {{(uint32_t)draw, (uint32_t)seat, 0, 0},
                                    {(uint32_t)draw, (uint32_t)seat, 1, 0}};
    random_words a = gradin_philox(counter[0], key), b = gradin_philox(counter[1], key);
    double z[6];
    normal(a.word[0], a.word[1], z);
    normal(a.word[2], a.word[3], z + 2);
    normal(b.word[0], b.word[1], z + 4);
    const body *kind = kind_of(population, even(b.word[2]));
    gradin_audience person = *audience;
    person.eye_height_m += at(kind->sitting_eye, z[0]) - mean_sitting_eye_m(population) +
                           population->slump_m * (0.5 - even(b.word[3]));
    person.wheelchair_eye_height_m +=
        person.eye_height_m - audience->eye_height_m; /* as far from the stated one */
    person.crown_m = at(kind->crown, z[1]);
    person.head_breadth_m = at(kind->head_breadth, z[2]);
    person.head_length_m = at(kind->head_length, z[3]);
    person.shoulder_breadth_m = at(kind->shoulder_breadth, z[4]);
    person.head_height_m += person.crown_m - audience->crown_m;
    return person;
}
