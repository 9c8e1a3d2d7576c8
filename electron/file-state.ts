import { stat } from 'node:fs/promises'

/** Size, time and place of a file in a line: another text after it was written again. Null when it is not there. */
export const fileState = (path: string): Promise<string | null> =>
  stat(path).then(
    info => `${info.size} ${info.mtimeMs} ${info.ino}`,
    () => null,
  )
