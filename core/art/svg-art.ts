import type { ByteSource } from '../base/source.ts'
import type { Task } from '../base/task.ts'
import { drawnArt } from './drawn/art.ts'
import { drawnPpi } from './drawn/usual.ts'
import type { ArtFile } from './layer.ts'
import { readSvgPage } from './svg.ts'

/** Opens an SVG drawing as RGB art of a resolution. Throws BadInput as its reader does. */
export async function openSvgArt(
  source: ByteSource,
  options: { readonly ppi?: number },
  task?: Task,
): Promise<ArtFile> {
  const page = await readSvgPage(source, task)
  // What is not drawn is missing however the drawing is read: there is nothing to choose.
  const told = { ...page, inexact: [], findings: [...page.findings, ...page.inexact] }
  return drawnArt(told, {
    name: source.name,
    format: 'SVG',
    ppi: options.ppi ?? drawnPpi,
    mode: 'RGB',
    number: 1,
    count: 1,
    readAs: 'inks',
  })
}
