/* geometry/mask/lanes/lanes_avx512.h: see lanes_portable.h. */
#ifndef GRADIN_GEOMETRY_LANES_H
#define GRADIN_GEOMETRY_LANES_H

#include <immintrin.h>
#include <stdint.h>

#define LANES_TABLE gradin_mask_table_avx512

typedef __m512 lanes;
typedef __m512i lanes_bits;

static inline lanes lanes_all(float a) {
    return _mm512_set1_ps(a);
}
static inline lanes lanes_load(const float *from) {
    return _mm512_loadu_ps(from);
}
static inline lanes lanes_load_16(const uint16_t *from) {
    __m256i whole = _mm256_loadu_si256((const __m256i *)(const void *)from);
    return _mm512_cvtepi32_ps(_mm512_cvtepu16_epi32(whole));
}
static inline void lanes_store(float *to, lanes a) {
    _mm512_storeu_ps(to, a);
}
static inline lanes lanes_add(lanes a, lanes b) {
    return _mm512_add_ps(a, b);
}
static inline lanes lanes_sub(lanes a, lanes b) {
    return _mm512_sub_ps(a, b);
}
static inline lanes lanes_mul(lanes a, lanes b) {
    return _mm512_mul_ps(a, b);
}
static inline lanes lanes_div(lanes a, lanes b) {
    return _mm512_div_ps(a, b);
}
static inline lanes lanes_min(lanes a, lanes b) {
    return _mm512_min_ps(a, b);
}
static inline lanes lanes_max(lanes a, lanes b) {
    return _mm512_max_ps(a, b);
}
static inline lanes lanes_abs(lanes a) {
    return _mm512_abs_ps(a);
}
static inline lanes lanes_sqrt(lanes a) {
    return _mm512_sqrt_ps(a);
}
static inline lanes_bits lanes_whole(lanes a) {
    return _mm512_cvttps_epi32(a);
}
static inline uint32_t lanes_below(lanes a, lanes b) {
    return (uint32_t)_mm512_cmp_ps_mask(a, b, _CMP_LT_OQ);
}
static inline lanes_bits lanes_load_bits(const uint32_t *from) {
    return _mm512_loadu_si512(from);
}
static inline void lanes_store_bits(uint32_t *to, lanes_bits a) {
    _mm512_storeu_si512(to, a);
}
static inline lanes_bits lanes_all_bits(uint32_t a) {
    return _mm512_set1_epi32((int)a);
}
static inline lanes_bits lanes_and(lanes_bits a, lanes_bits b) {
    return _mm512_and_si512(a, b);
}
static inline lanes_bits lanes_without(lanes_bits a, lanes_bits b) {
    return _mm512_andnot_si512(b, a);
}
static inline lanes_bits lanes_or(lanes_bits a, lanes_bits b) {
    return _mm512_or_si512(a, b);
}
static inline lanes_bits lanes_from_bit(lanes_bits n) {
    return _mm512_sllv_epi32(_mm512_set1_epi32(-1), n);
}
static inline int lanes_any(lanes_bits a) {
    return _mm512_test_epi32_mask(a, a) != 0;
}
static inline int lanes_same(lanes_bits a, lanes_bits b) {
    return _mm512_cmpneq_epi32_mask(a, b) == 0;
}
static inline uint32_t lanes_fewer(lanes_bits a, lanes_bits b) {
    return (uint32_t)_mm512_cmplt_epi32_mask(a, b);
}
static inline uint32_t lanes_used(lanes_bits a) {
    return (uint32_t)_mm512_test_epi32_mask(a, a);
}
static inline uint32_t lanes_together(lanes_bits a) {
    return (uint32_t)_mm512_reduce_or_epi32(a);
}

#endif
