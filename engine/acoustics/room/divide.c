/* Two diffuse rooms coupled through the opening of an arch that divides the hall.
 *
 * Balance of powers (Kuttruff, "Room Acoustics", chapter on coupled rooms; Cremer and Mueller; from
 * memory): in the steady state a power W fed into room 1 gives
 *     g1 (A1 + k) - g2 k = 4 W,   g2 (A2 + k) - g1 k = 0                                    (1)
 * with g the mean square pressure over rho c and A the equivalent absorption areas of the rooms
 * without what they share. The textbook's k is the area S of the opening; it takes the field that
 * runs at the opening as the room's mean, which holds for small openings. The two half fields at a
 * wall that lets the share tau through add up to a drop of the mean by (1 - tau) of that of the
 * running fields, so that the mean fields exchange
 *     k = S tau/(1 - tau)                                                                    (2)
 * with S the whole section of the hall and tau S = S_opening ((1 - c) + c 10^(-R/10)), c the share
 * by which the closing element is down. (2) is the textbook's for small openings and makes the two
 * rooms one when nothing divides them.
 *
 * Each room has the absorption of its own surfaces, Sabine's area and air in the steady balance and
 * Eyring's in the decay (absorption.c); the arch's faces absorb like the walls,
 * the closing element by its own figure. Floor, ceiling and extra absorption are shared by plan
 * area, walls, facade and seats lie where they are. As for one room, what is left after the first
 * reflection feeds the field, in the room of the element. The decay of two coupled rooms has two
 * rates; the time given is twice that from -5 to -35 dB (T30 of ISO 3382) in each room after a
 * steady source of its own, times the same constant as one room's.
 *
 * Limits: diffuse fields on both sides, an opening that is no narrow tube, a partition that lets
 * nothing through but its opening and closing element, no sound carried round by the structure. */
#include "acoustics/room/divide.h"

#include "acoustics/envelope/element.h"

static const double most_tau = 1.0 - 1e-9, most_mean_alpha = 0.99;

static double left_of(const gradin_divide *d, gradin_vec2 p) {
    gradin_vec2 a = d->line_m[0], b = d->line_m[1];
    return ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / hypot(b.x - a.x, b.y - a.y);
}

/* Share of the piece a to b that lies left of the line. */
static double left_share(double off_a, double off_b) {
    if (off_a >= 0.0 && off_b >= 0.0) return 1.0;
    if (off_a <= 0.0 && off_b <= 0.0) return 0.0;
    return fmax(off_a, off_b) / fabs(off_a - off_b);
}

/* Plan area and length of wall on side 0: the area by Green's theorem along the edges and the cut,
 * which adds nothing where heights over the line are what is summed. */
static void measure_plan(const gradin_model *m, double *area_m2, double *wall_m) {
    const gradin_divide *d = m->divide;
    gradin_vec2 unit = {d->line_m[1].x - d->line_m[0].x, d->line_m[1].y - d->line_m[0].y};
    double length_m = hypot(unit.x, unit.y), twice_m2 = 0.0;
    *wall_m = 0.0;
    for (int i = 0; i < m->footprint.n_corner; i++) {
        gradin_vec2 a = m->footprint.corner_m[i];
        gradin_vec2 b = m->footprint.corner_m[(i + 1) % m->footprint.n_corner];
        double off_a = left_of(d, a), off_b = left_of(d, b), share = left_share(off_a, off_b);
        double along_m = ((b.x - a.x) * unit.x + (b.y - a.y) * unit.y) / length_m;
        twice_m2 += along_m * share * (fmax(off_a, 0.0) + fmax(off_b, 0.0));
        *wall_m += share * hypot(b.x - a.x, b.y - a.y);
    }
    *area_m2 = 0.5 * fabs(twice_m2);
}

int gradin_room_side(const gradin_model *model, gradin_vec3 at_m) {
    return gradin_divide_side(model->divide, (gradin_vec2){at_m.x, at_m.y});
}

int gradin_element_side(const gradin_model *model, const gradin_element *e) {
    return gradin_room_side(model, gradin_element_point_m(e, 0.5 * e->width_m, 0.5 * e->height_m));
}

typedef struct half {
    double volume_m3;
    double
        area_m2[GRADIN_N_SURFACE + 1]; /* of the first surfaces, then of all that have no place */
} half;

static double elements_m2(const gradin_model *m, int side, bool is_overhead) {
    double sum_m2 = 0.0;
    for (int i = 0; i < m->n_element; i++)
        if (gradin_element_side(m, &m->element[i]) == side &&
            gradin_element_is_overhead(&m->element[i]) == is_overhead)
            sum_m2 += gradin_element_area_m2(&m->element[i]);
    return sum_m2;
}

static double seating_m2(const gradin_model *m, int side) {
    double sum_m2 = 0.0;
    for (int i = 0; i < m->seats.n_seat; i++)
        if (gradin_room_side(m, m->seats.floor_m[i]) == side)
            sum_m2 += m->seats.width_m[i] * m->seats.depth_m[i];
    return sum_m2;
}

static void measure(const gradin_model *m, half part[2]) {
    double plan_m2 = gradin_polygon_area_m2(m->footprint), left_m2, left_wall_m, all_wall_m = 0.0;
    measure_plan(m, &left_m2, &left_wall_m);
    for (int i = 0; i < m->footprint.n_corner; i++) {
        gradin_vec2 a = m->footprint.corner_m[i];
        gradin_vec2 b = m->footprint.corner_m[(i + 1) % m->footprint.n_corner];
        all_wall_m += hypot(b.x - a.x, b.y - a.y);
    }
    for (int side = 0; side < 2; side++) {
        double share = side == 0 ? left_m2 / plan_m2 : 1.0 - left_m2 / plan_m2;
        double wall_m = side == 0 ? left_wall_m : all_wall_m - left_wall_m;
        double seats_m2 = seating_m2(m, side), *area_m2 = part[side].area_m2;
        part[side].volume_m3 = share * m->volume_m3;
        area_m2[GRADIN_SURFACE_SEATING] = seats_m2;
        area_m2[GRADIN_SURFACE_FLOOR] = fmax(share * plan_m2 - seats_m2, 0.0);
        area_m2[GRADIN_SURFACE_CEILING] = fmax(share * plan_m2 - elements_m2(m, side, true), 0.0);
        area_m2[GRADIN_SURFACE_WALL] =
            fmax(wall_m * m->ceiling_m - elements_m2(m, side, false), 0.0);
        area_m2[GRADIN_N_SURFACE] = share;
    }
}

/* Area and absorption of the faces that the partition turns to each room. */
static double partition_m2(const gradin_model *m, int band, const gradin_scaling *scaling,
                           double *sum_m2) {
    const gradin_divide *d = m->divide;
    double solid_m2 = fmax(d->section_m2 - d->opening_m2, 0.0),
           cloth_m2 = d->closed * d->opening_m2;
    *sum_m2 = solid_m2 * gradin_surface_alpha(m, GRADIN_SURFACE_WALL, band, scaling) +
              cloth_m2 * gradin_scaled_alpha(d->closing_absorption[band], scaling->factor[band]);
    return solid_m2 + cloth_m2;
}

static double mean_alpha(const gradin_model *m, const half *part, int side,
                         gradin_shade_state state, int band, const gradin_scaling *scaling,
                         double *area_m2) {
    double sum_m2;
    *area_m2 = partition_m2(m, band, scaling, &sum_m2);
    for (int i = 0; i < m->n_surface; i++) {
        double here_m2 = i < GRADIN_N_SURFACE
                             ? part->area_m2[i]
                             : part->area_m2[GRADIN_N_SURFACE] * m->surface[i].area_m2;
        *area_m2 += here_m2;
        sum_m2 += here_m2 * gradin_surface_alpha(m, i, band, scaling);
    }
    for (int i = 0; i < m->n_element; i++) {
        if (gradin_element_side(m, &m->element[i]) != side) continue;
        double here_m2 = gradin_element_area_m2(&m->element[i]);
        *area_m2 += here_m2;
        sum_m2 += here_m2 *
                  gradin_element_absorption(m, &m->element[i], state, band, scaling->factor[band]);
    }
    return fmin(fmax(sum_m2 / *area_m2, 0.0), most_mean_alpha);
}

double gradin_coupling_m2(double section_m2, double open_m2) {
    double tau = fmin(fmax(open_m2 / section_m2, 0.0), most_tau);
    return section_m2 * tau / (1.0 - tau); /* (2) */
}

static double open_m2(const gradin_divide *d, int band) {
    return d->opening_m2 * (1.0 - d->closed + d->closed * pow(10.0, -0.1 * d->closing_r_db[band]));
}

/* Two rates of one room's decay and the weights with which they begin. */
typedef struct decay {
    double rate_1s[2], weight[2];
} decay;

static double level_at(const decay *d, double t_s) {
    double now = 0.0, first = d->weight[0] + d->weight[1];
    for (int i = 0; i < 2; i++) now += d->weight[i] * exp(-d->rate_1s[i] * t_s);
    return 10.0 * log10(now / first);
}

static double time_to(const decay *d, double level_db) {
    double low_s = 0.0, high_s = 1.0;
    while (level_at(d, high_s) > level_db) high_s *= 2.0;
    for (int i = 0; i < 60; i++) {
        double middle_s = 0.5 * (low_s + high_s);
        *(level_at(d, middle_s) > level_db ? &low_s : &high_s) = middle_s;
    }
    return 0.5 * (low_s + high_s);
}

/* The balance is made symmetric by the roots of the volumes; its two modes give the rates. */
static decay decay_of(const gradin_coupled *c, int room, double speed_ms) {
    double quarter = speed_ms / 4.0;
    double p = quarter * (c->absorption_m2[0] + c->coupling_m2) / c->volume_m3[0];
    double q = quarter * (c->absorption_m2[1] + c->coupling_m2) / c->volume_m3[1];
    double o = quarter * c->coupling_m2 / sqrt(c->volume_m3[0] * c->volume_m3[1]);
    double middle = 0.5 * (p + q), apart = hypot(0.5 * (p - q), o);
    decay d = {.rate_1s = {middle - apart, middle + apart}};
    double own = room == 0 ? p : q, other = room == 0 ? q : p;
    for (int i = 0; i < 2; i++) {
        double near = other - d.rate_1s[i]; /* own share of mode i: near2/(near2 + o2) */
        bool is_alone = o <= 1e-12 * middle;
        double share = is_alone ? fabs(d.rate_1s[i] - own) <= fabs(d.rate_1s[1 - i] - own)
                                : near * near / (near * near + o * o);
        d.weight[i] = share / d.rate_1s[i];
    }
    return d;
}

double gradin_coupled_reverberation_s(const gradin_coupled *c, int room, double speed_ms) {
    decay d = decay_of(c, room, speed_ms);
    double t30_s = 2.0 * (time_to(&d, -35.0) - time_to(&d, -5.0));
    return t30_s * 55.26 / (24.0 * log(10.0));
}

double gradin_coupled_1m2(const gradin_coupled *c, int listener, int source) {
    double k = c->coupling_m2, a = c->absorption_m2[0] + k, b = c->absorption_m2[1] + k;
    double determinant =
        c->absorption_m2[0] * c->absorption_m2[1] + k * (c->absorption_m2[0] + c->absorption_m2[1]);
    return 4.0 * (listener != source ? k : source == 0 ? b : a) / determinant; /* (1) */
}

static int most_seats(const gradin_model *m) {
    int n = 0;
    for (int i = 0; i < m->seats.n_seat; i++) n += gradin_room_side(m, m->seats.floor_m[i]);
    return 2 * n > m->seats.n_seat;
}

static void fill_band(const gradin_model *m, const half part[2], gradin_shade_state state, int band,
                      const gradin_scaling *scaling, gradin_room_field *field) {
    gradin_coupled c = {.volume_m3 = {part[0].volume_m3, part[1].volume_m3},
                        .coupling_m2 =
                            gradin_coupling_m2(m->divide->section_m2, open_m2(m->divide, band))};
    double alpha[2], air_4m = gradin_room_air_4m(gradin_band_mid_hz(band));
    gradin_coupled decaying = c;
    for (int side = 0; side < 2; side++) {
        double area_m2, volume_m3 = c.volume_m3[side];
        alpha[side] = mean_alpha(m, &part[side], side, state, band, scaling, &area_m2);
        c.absorption_m2[side] = area_m2 * alpha[side] + air_4m * volume_m3;
        decaying.absorption_m2[side] = gradin_eyring_m2(area_m2, alpha[side], volume_m3, air_4m);
    }
    field->absorption_m2[band] = decaying.absorption_m2[0] + decaying.absorption_m2[1];
    for (int side = 0; side < 2; side++) {
        field->reverberation_s[side][band] =
            gradin_coupled_reverberation_s(&decaying, side, gradin_room_air_speed_ms());
        for (int from = 0; from < 2; from++)
            field->reverberant_1m2[side][from][band] =
                (1.0 - alpha[from]) * gradin_coupled_1m2(&c, side, from);
    }
}

gradin_status gradin_divided_field_make(const gradin_model *model, gradin_shade_state state,
                                        const gradin_scaling *scaling, gradin_room_field *field,
                                        gradin_error *error) {
    half part[2];
    if (model->n_surface < GRADIN_N_SURFACE || model->footprint.n_corner < 3 ||
        !(model->divide->section_m2 > 0.0))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a divided room needs its surfaces");
    measure(model, part);
    if (!(part[0].volume_m3 > 0.0) || !(part[1].volume_m3 > 0.0))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the arch leaves one side no room");
    field->main_side = most_seats(model);
    for (int b = 0; b < GRADIN_N_BAND; b++) fill_band(model, part, state, b, scaling, field);
    return GRADIN_OK;
}
