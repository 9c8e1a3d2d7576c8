import { BadInput, type Finding } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import type { Task } from '../base/task.ts'
import { withPictureFindings } from './composite-findings.ts'
import { flatLayer } from './flat-layer.ts'
import { type Art, type ArtFile, processCount } from './layer.ts'
import { saveAgain } from './place.ts'
import { checkBudget } from './plane-budget.ts'
import { readChannels } from './psd/channels.ts'
import { PsdFile } from './psd/file.ts'
import { type Header, readHeader } from './psd/header.ts'
import { type LayerPlanes, locatePlanes } from './psd/layer-planes.ts'
import { type ReadLayer, toLayers } from './psd/layers.ts'
import { readDocumentPaths } from './psd/paths.ts'
import { layoutPicture, type PictureLayout } from './psd/picture.ts'
import { readProfile } from './psd/profile.ts'
import { readResources } from './psd/resources.ts'
import { readSections } from './psd/sections.ts'
import { readPalette, readResolution, saysNoPicture } from './psd/settings.ts'

/** Opens a PSD or PSB: everything but the samples is read, the samples when they are asked for. */
export async function openPsd(source: ByteSource, memoryBudget: number, task?: Task): Promise<ArtFile> {
  const findings: Finding[] = []
  const header = await readHeader(source)
  judgeHeader(header, findings)
  const { width, height, depth, large } = header
  const page = { left: 0, top: 0, right: width, bottom: height }
  checkBudget(page, depth, memoryBudget, { file: source.name, part: null }, 14)

  const {
    colorData,
    resources: section,
    layers,
    picture: at,
  } = await readSections(source, header, memoryBudget, findings, task)
  const resources = readResources(section, findings)
  const resolution = readResolution(resources, findings)
  const mmPerPixel = 25.4 / (resolution ?? 72)
  const sheet = { width: width * mmPerPixel, height: height * mmPerPixel }
  const read = toLayers(layers.records, { mmPerPixel, sheet }, findings)
  const planes = await locateAll(source, read, header, task)
  const picture = await pictureOrReason(source, header, at, findings)
  const channels = readChannels(header, resources, layers.transparency, findings)

  const art: Art = {
    name: source.name,
    format: large ? 'PSB' : 'PSD',
    width,
    height,
    resolutionPpi: resolution,
    colorMode: header.mode,
    depth,
    layers:
      read.length === 0 && processCount(header.mode) > 0
        ? [flatLayer(header, channels)]
        : read.map(r => withPictureFindings(r.layer, header.mode)),
    channels,
    paths: readDocumentPaths(resources, sheet, layers.pathNames),
    profile: readProfile(resources),
    palette: readPalette(header.mode, colorData, findings),
    hasComposite: !(picture instanceof BadInput) && !saysNoPicture(resources),
    findings,
  }
  return new PsdFile(art, source, memoryBudget, planes, picture, header.planes)
}

function judgeHeader(header: Header, findings: Finding[]): void {
  if (!header.reservedZero)
    findings.push({
      severity: 'note',
      code: 'reserved-bytes',
      where: 'byte 6',
      message: 'six bytes that must be zero are not',
      fix: saveAgain,
    })
  // The published limit; files with more are written all the same, and nothing here depends on it.
  if (header.planes > 56)
    findings.push({
      severity: 'note',
      code: 'channel-count',
      where: 'byte 12',
      message: `the format allows 56 channels, the file has ${header.planes}`,
      fix: 'Remove channels that the job does not need.',
    })
}

async function locateAll(
  source: ByteSource,
  read: readonly ReadLayer[],
  header: Header,
  task?: Task,
): Promise<Map<string, LayerPlanes>> {
  const planes = new Map<string, LayerPlanes>()
  for (const [i, { layer, record }] of read.entries()) {
    planes.set(layer.id, await locatePlanes(source, record, header.depth, header.large, task))
    task?.progress?.((i + 1) / read.length, 'finding layer pixels')
  }
  return planes
}

/** A missing flattened picture is a finding: layers can be used without it, and its planes say why they cannot. */
async function pictureOrReason(
  source: ByteSource,
  header: Header,
  at: number,
  findings: Finding[],
): Promise<PictureLayout | BadInput> {
  try {
    return await layoutPicture(source, header, at)
  } catch (reason) {
    if (!(reason instanceof BadInput)) throw reason
    findings.push({
      severity: 'error',
      code: 'picture-missing',
      where: reason.where,
      message: `the flattened picture and the document channels cannot be read: ${problemOf(reason)}`,
      fix: saveAgain,
    })
    return reason
  }
}

/** What is wrong, without the file, the place and the remedy around it. */
function problemOf({ message, subject, where }: BadInput): string {
  const rest = message.slice(`${subject}: ${where}: `.length)
  return rest.slice(0, rest.indexOf('. '))
}
