/* The kinds of file. */
#include "files/stated/files.h"

#include "files/stated/layout.h"
#include "files/stated/noise.h"
#include "files/stated/programme.h"
#include "files/stated/show.h"
#include "files/stated/study.h"

const schema_file *const schema_files[] = {
    &venue_schema,  &layout_schema,    &pass_schema, &traffic_schema, &brief_schema,
    &wishes_schema, &programme_schema, &show_schema, &study_schema,   NULL};
