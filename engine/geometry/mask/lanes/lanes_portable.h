/* geometry/mask/lanes/lanes_portable.h: sixteen lanes of float and of uint32 in plain C. The other
 * lanes_*.h do the same operations in the same order; none fuses a product and a sum, so all give
 * the same bits. min and max give the second operand when the first is not below (above) it. */
#ifndef GRADIN_GEOMETRY_LANES_H
#define GRADIN_GEOMETRY_LANES_H

#include <math.h>
#include <stdint.h>

#define LANES_TABLE gradin_mask_table_portable

typedef struct lanes {
    float at[16];
} lanes;
typedef struct lanes_bits {
    uint32_t at[16];
} lanes_bits;

#define EACH_LANE for (int k = 0; k < 16; k++)

static inline lanes lanes_all(float a) {
    lanes r;
    EACH_LANE r.at[k] = a;
    return r;
}
static inline lanes lanes_load(const float *from) {
    lanes r;
    EACH_LANE r.at[k] = from[k];
    return r;
}
static inline lanes lanes_load_16(const uint16_t *from) {
    lanes r;
    EACH_LANE r.at[k] = (float)from[k];
    return r;
}
static inline void lanes_store(float *to, lanes a) {
    EACH_LANE to[k] = a.at[k];
}
static inline lanes lanes_add(lanes a, lanes b) {
    EACH_LANE a.at[k] += b.at[k];
    return a;
}
static inline lanes lanes_sub(lanes a, lanes b) {
    EACH_LANE a.at[k] -= b.at[k];
    return a;
}
static inline lanes lanes_mul(lanes a, lanes b) {
    EACH_LANE a.at[k] *= b.at[k];
    return a;
}
static inline lanes lanes_div(lanes a, lanes b) {
    EACH_LANE a.at[k] /= b.at[k];
    return a;
}
static inline lanes lanes_min(lanes a, lanes b) {
    EACH_LANE a.at[k] = a.at[k] < b.at[k] ? a.at[k] : b.at[k];
    return a;
}
static inline lanes lanes_max(lanes a, lanes b) {
    EACH_LANE a.at[k] = a.at[k] > b.at[k] ? a.at[k] : b.at[k];
    return a;
}
static inline lanes lanes_abs(lanes a) {
    EACH_LANE a.at[k] = fabsf(a.at[k]);
    return a;
}
static inline lanes lanes_sqrt(lanes a) {
    EACH_LANE a.at[k] = sqrtf(a.at[k]);
    return a;
}
static inline lanes_bits lanes_whole(lanes a) {
    lanes_bits r;
    EACH_LANE r.at[k] = (uint32_t)(int32_t)a.at[k];
    return r;
}
/* Bit k: a < b in lane k. */
static inline uint32_t lanes_below(lanes a, lanes b) {
    uint32_t r = 0;
    EACH_LANE r |= (uint32_t)(a.at[k] < b.at[k]) << k;
    return r;
}

static inline lanes_bits lanes_load_bits(const uint32_t *from) {
    lanes_bits r;
    EACH_LANE r.at[k] = from[k];
    return r;
}
static inline void lanes_store_bits(uint32_t *to, lanes_bits a) {
    EACH_LANE to[k] = a.at[k];
}
static inline lanes_bits lanes_all_bits(uint32_t a) {
    lanes_bits r;
    EACH_LANE r.at[k] = a;
    return r;
}
static inline lanes_bits lanes_and(lanes_bits a, lanes_bits b) {
    EACH_LANE a.at[k] &= b.at[k];
    return a;
}
/* a and not b */
static inline lanes_bits lanes_without(lanes_bits a, lanes_bits b) {
    EACH_LANE a.at[k] &= ~b.at[k];
    return a;
}
static inline lanes_bits lanes_or(lanes_bits a, lanes_bits b) {
    EACH_LANE a.at[k] |= b.at[k];
    return a;
}
/* All bits from bit n on; none when n is 32 or more. */
static inline lanes_bits lanes_from_bit(lanes_bits n) {
    EACH_LANE n.at[k] = n.at[k] < 32 ? UINT32_MAX << n.at[k] : 0;
    return n;
}
static inline int lanes_any(lanes_bits a) {
    uint32_t r = 0;
    EACH_LANE r |= a.at[k];
    return r != 0;
}
static inline int lanes_same(lanes_bits a, lanes_bits b) {
    uint32_t r = 0;
    EACH_LANE r |= a.at[k] ^ b.at[k];
    return r == 0;
}
/* Bit k: lane k is not zero. */
/* Bit k: a < b in lane k, neither above INT32_MAX. */
static inline uint32_t lanes_fewer(lanes_bits a, lanes_bits b) {
    uint32_t r = 0;
    EACH_LANE r |= (uint32_t)(a.at[k] < b.at[k]) << k;
    return r;
}
static inline uint32_t lanes_used(lanes_bits a) {
    uint32_t r = 0;
    EACH_LANE r |= (uint32_t)(a.at[k] != 0) << k;
    return r;
}
/* The bits of all lanes. */
static inline uint32_t lanes_together(lanes_bits a) {
    uint32_t r = 0;
    EACH_LANE r |= a.at[k];
    return r;
}

#endif
