/** A file that the page may speak of. Its path stays with the host. */
export interface FileRef {
  readonly id: string
  readonly name: string
  readonly kind: 'art' | 'job'
}

/** The id that stands for the panel of a job without art. */
export const blankFileId = 'blank'
