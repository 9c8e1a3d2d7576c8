import * as v from 'valibot'

/** Files are known to a page by an id only; paths stay with the host. */
export const fileId = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/))
/** Of long work, by which its progress is asked for and it is stopped. */
export const taskId = fileId
/** Parsed again by `parseJob` in the handler, which says which field is wrong. */
export const anyJob = v.record(v.string(), v.unknown())
/** SHA-256. */
export const versionId = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/))
/** Side of a small picture, pixels. */
export const pictureSide = (most: number) => v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(most))
