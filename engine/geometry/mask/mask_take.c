/* What a body takes from the mask: its shadow's sure bits, and of the samples at its very edge
 * those that gradin_shape_hit() hides. So the mask is that of gradin_visibility_reference() bit for
 * bit, the rounding of a graze included. */
#include "geometry/mask/mask_scene.h"

static int cast_pieces(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                       const uint32_t *open) {
    const mask_table *table = job->table;
    bool is_first = true;
    int found = 0;
    for (int i = 0; i < shadow->n_conic; i++, is_first = false)
        found |= table->conic(job->view.grid, &shadow->conic[i], rect, open, is_first,
                              job->scratch->bits);
    if (shadow->has_wedge)
        found |=
            table->wedge(job->view.grid, &shadow->wedge, rect, open, is_first, job->scratch->bits);
    return found;
}

/* Of the rays that meet the body, those to samples within its own reach are asked, those to samples
 * beyond are hidden. */
static int cast_split(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                      const uint32_t *open) {
    const gradin_mask_grid *g = job->view.grid;
    mask_bits past = job->scratch->past, level = job->scratch->level, out = job->scratch->bits;
    job->table->wedge(g, &shadow->beyond, rect, open, true, past);
    job->table->wedge(g, &shadow->level, rect, open, true, level);
    if (cast_pieces(job, shadow, rect, open) == 0) return 0;
    uint32_t any_sure = 0, any_doubt = 0;
    int from = gradin_mask_from(g, rect), end = from + ((rect.row_high - from) | 15) + 1;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++)
        for (int row = from; row < end; row++) {
            int at = strip * g->n_stride + row;
            uint32_t reach = level.sure[at] | level.doubt[at];
            out.doubt[at] = (out.doubt[at] | (out.sure[at] & ~past.sure[at])) & reach;
            out.sure[at] &= past.sure[at];
            any_sure |= out.sure[at];
            any_doubt |= out.doubt[at];
        }
    return (any_sure != 0) | (any_doubt != 0) << 1;
}

int gradin_mask_cast(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                     const uint32_t *open) {
    return shadow->is_split ? cast_split(job, shadow, rect, open)
                            : cast_pieces(job, shadow, rect, open);
}

mask_form gradin_mask_shade(const mask_job *job, const mask_body *body, mask_rect rect,
                            mask_shadow *shadow) {
    if (gradin_mask_size(rect) <= MASK_FEW) return MASK_BY_SAMPLE;
    return gradin_mask_throw(&job->view, &body->occluder->shape, body->ellipsoid, shadow);
}

static bool is_hit(const mask_job *job, const mask_body *body, int row, int column) {
    const gradin_mask_grid *g = job->view.grid;
    int sample = g->index[row * g->n_column + column];
    return gradin_shape_hit(body->exact, job->eye_m, g->sample_m[sample], NULL);
}

/* Takes from the mask the samples of the rectangle that the body hides, within `asked` (all when
 * NULL). */
static void take_by_sample(const mask_job *job, const mask_body *body, mask_rect rect,
                           const uint32_t *asked) {
    const gradin_mask_grid *g = job->view.grid;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
        uint32_t columns = gradin_mask_columns(rect, strip);
        for (int row = rect.row_low; row <= rect.row_high; row++) {
            int at = strip * g->n_stride + row;
            uint32_t bits = job->scratch->clear[at] & columns & (asked ? asked[at] : UINT32_MAX);
            for (; bits; bits &= bits - 1)
                if (is_hit(job, body, row, 32 * strip + __builtin_ctz(bits)))
                    job->scratch->clear[at] &= ~(bits & -bits);
        }
    }
}

void gradin_mask_take(const mask_job *job, const mask_body *body, mask_rect rect) {
    gradin_mask_scratch *s = job->scratch;
    int owner = body->occluder->owner;
    if (owner != GRADIN_NO_OWNER && owner == job->owner) return;
    mask_form form = gradin_mask_shade(job, body, rect, &s->shadow);
    if (form == MASK_BY_SAMPLE) take_by_sample(job, body, rect, NULL);
    if (form != MASK_PIECES) return;
    int found = gradin_mask_cast(job, &s->shadow, rect, s->clear);
    s->is_stale = s->is_stale || found & 1;
    if (found & 1) job->table->remove(job->view.grid, s->clear, s->bits.sure, rect);
    if (found & 2) take_by_sample(job, body, rect, s->bits.doubt);
}
