import { sizeWords } from '../panels/proofs/words.ts'
import type { Desk } from './open.ts'
import { jobName } from './save.ts'
import type { State } from './state.ts'

/** A file that goes out. */
export interface OutFile {
  readonly name: string
  readonly bytes: Uint8Array<ArrayBuffer>
}

/**
 * Hands files over: one as it is, several as one zip, to the place that the user chooses or to the browser's downloads.
 * What it says is a line for the sheet: which file, how large, where. Null when the user chose no place.
 * @param stem first part of a zip's name
 */
export async function saveOut(
  desk: Desk,
  files: readonly OutFile[],
  stem: string,
): Promise<readonly string[] | null> {
  const out = await handOver(desk, files, stem)
  return out && [out.says]
}

/** The same, with the name that the file went out under. */
export async function handOver(
  { host, page, store }: Desk,
  files: readonly OutFile[],
  stem: string,
): Promise<{ readonly name: string; readonly says: string } | null> {
  const [first] = files
  if (first === undefined) return null
  const out = files.length === 1 ? first : { name: `${stem}.zip`, bytes: await zipped(files) }
  const { art, about } = store.get().session
  if (art === null) return null
  const size = sizeWords(out.bytes.length)
  const holds = files.length === 1 ? size : `${files.length} files, ${size}`
  if (about?.files === 'upload') {
    page.download(out.name, new Blob([out.bytes]))
    return { name: out.name, says: `${out.name} (${holds}) went to your downloads.` }
  }
  const written = await host('saveFile', { ...out, artFileId: art.file.id })
  return (
    written && {
      name: written.name,
      says: `${written.name} (${holds}) lies in the folder ${written.folder}.`,
    }
  )
}

/** What a zip cannot pack further is only put together; the same files give the same bytes. */
async function zipped(files: readonly OutFile[]): Promise<Uint8Array<ArrayBuffer>> {
  const { zip } = await import('fflate')
  return new Promise((resolve, reject) =>
    zip(
      Object.fromEntries(files.map(({ name, bytes }) => [name, bytes])),
      { level: 0, mtime: '1980-01-02T00:00:00' },
      (error, bytes) => (error === null ? resolve(new Uint8Array(bytes)) : reject(error)),
    ),
  )
}

/** The job's file name, or what it would be called. */
export const jobFileName = ({ job, session }: State): string =>
  session.jobFile?.name ??
  (job?.art == null || session.art === null ? 'carton.job.json' : jobName(session.art.file.name))
