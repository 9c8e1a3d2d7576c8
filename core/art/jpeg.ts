import { BadInput, type Finding } from '../base/finding.ts'
import { decodeJpeg, type JpegHead, jpegHead, jpegMemory } from '../base/jpeg.ts'
import { type ByteSource, memorySource } from '../base/source.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { flatFile } from './flat-file.ts'
import { namedProfile } from './icc-name.ts'
import type { ArtFile } from './layer.ts'
import { saveAgain } from './place.ts'
import { readExactly } from './read-exactly.ts'
import { resolutionOf } from './resolution.ts'
import { samplePlane } from './sample-plane.ts'
import { readDirectories } from './tiff/directory.ts'
import { tag } from './tiff/tags.ts'

/**
 * Opens a JPEG as one flat layer: grey, RGB or CMYK. It is unpacked at once and held.
 * @throws BadInput when the file cannot be used
 */
export async function openJpeg(
  source: ByteSource,
  options: { readonly memoryBudget: number },
  task?: Task,
): Promise<ArtFile> {
  const findings: Finding[] = []
  const bytes = await readExactly(source, 0, source.size, { file: source.name, part: null })
  const read = <T>(work: () => T): T => {
    try {
      return work()
    } catch (reason) {
      throw new BadInput(
        'picture-malformed',
        source.name,
        'the file',
        `it cannot be read as a JPEG: ${reason instanceof Error ? reason.message : String(reason)}`,
        saveAgain,
      )
    }
  }
  const head = read(() => jpegHead(bytes))
  if (jpegMemory(head) > options.memoryBudget)
    throw new BadInput(
      'too-large',
      source.name,
      'the pixels',
      `${head.width} × ${head.height} pixels take more than the memory budget`,
      'Raise the memory budget, or save the art at a lower resolution.',
    )
  checkCancelled(task)
  const { width, height, components, data } = read(() => decodeJpeg(bytes))
  checkCancelled(task)
  const [across, down] = await densityOf(head, source.name, findings)
  // Files of the segment that names the transform hold ink the other way round: 255 is none, as planes have it.
  const turned =
    components === 4 && head.adobe === null ? Uint8Array.from({ length: 256 }, (_, i) => 255 - i) : null
  return flatFile(
    {
      name: source.name,
      format: 'JPEG',
      width,
      height,
      resolutionPpi: resolutionOf(across, down, findings),
      colorMode: components === 4 ? 'CMYK' : components === 3 ? 'RGB' : 'Grayscale',
      depth: 8,
      channels: [],
      profile: head.profile === null ? null : namedProfile(head.profile),
      palette: null,
      findings,
    },
    async (index, rows) => samplePlane(data, width, components, index, rows, turned),
  )
}

/** Pixels an inch by the JFIF segment, else by Exif, whose segment is a TIFF without pixels; 0 where none says any. */
async function densityOf(
  { density, exif }: JpegHead,
  name: string,
  findings: Finding[],
): Promise<readonly [number, number]> {
  const dir = exif === null ? undefined : (await readDirectories(memorySource(name, exif)).catch(() => []))[0]
  if (((await dir?.number(tag.orientation, 1)) ?? 1) !== 1)
    findings.push({
      severity: 'warning',
      code: 'orientation-not-applied',
      where: 'the picture',
      message: 'it is only turned upright when it is shown; here it is read as it lies in the file',
      fix: 'Turn the picture itself and save it.',
    })
  if (density !== null || dir === undefined) return density ?? [0, 0]
  const unit = await dir.number(tag.resolutionUnit, 2)
  const perInch = unit === 2 ? 1 : unit === 3 ? 2.54 : 0
  return [perInch * (await dir.number(tag.xResolution, 0)), perInch * (await dir.number(tag.yResolution, 0))]
}
