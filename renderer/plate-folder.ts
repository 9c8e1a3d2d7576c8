import { isPlateName } from '../core/art/plate-name.ts'

/** The pictures in a dropped folder; everything else in it is left alone. Rejects where there are none. */
export async function platesOf(folder: FileSystemDirectoryEntry): Promise<readonly File[]> {
  const reader = folder.createReader()
  const entries: FileSystemEntry[] = []
  // A reader gives a hundred at a time, and none once all were given.
  for (;;) {
    const next = await new Promise<readonly FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    )
    if (next.length === 0) break
    entries.push(...next)
  }
  const files = entries
    .filter((entry): entry is FileSystemFileEntry => entry.isFile && isPlateName(entry.name))
    .map(entry => new Promise<File>((resolve, reject) => entry.file(resolve, reject)))
  return platesAmong(folder.name, await Promise.all(files))
}

/** The pictures among the files of a folder of that name, by name. Throws where there are none. */
export function platesAmong(folder: string, files: readonly File[]): readonly File[] {
  const plates = files.filter(file => isPlateName(file.name))
  if (plates.length > 0) return plates.toSorted((a, b) => a.name.localeCompare(b.name))
  throw new Error(
    `${folder}: the folder has no TIFF, PNG or JPEG in it. Choose a folder of one picture a plate, or the files themselves.`,
  )
}
