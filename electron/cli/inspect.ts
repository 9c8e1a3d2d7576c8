import { compositeDifference, differenceFinding } from '../../core/art/composite-difference.ts'
import type { Art, Channel, InkColor, Layer } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import type { Finding } from '../../core/base/finding.ts'
import { assumptions } from '../../core/job/new.ts'
import type { Amount, Assigned } from '../../core/roles/role.ts'
import { noDecisions, rolesForJob } from '../art-work.ts'
import { openFile } from '../file-source.ts'
import { type Command, jsonFlag } from './command.ts'
import { progressTask } from './progress.ts'
import { counted, decimals, table } from './table.ts'

export const inspect: Command = {
  usage: {
    name: 'inspect',
    says: 'what a layered file holds, and which part each layer plays',
    operands: ['ART'],
    flags: jsonFlag,
  },
  async run(args, output) {
    const file = await openFile(args.operands[0]!)
    try {
      const task = progressTask(output, `Reading ${file.name}`)
      const art = await readArt(file, {}, task)
      const assigned = await rolesForJob(art, noDecisions, task)
      const difference = await compositeDifference(art, task)
      output.progress(null)
      const seen: Seen = {
        art: art.art,
        assigned: new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one])),
        psnrDb: 'reason' in difference ? null : Math.min(difference.psnr, difference.alphaPsnr ?? Infinity),
        findings: findingsOf(art.art, 'reason' in difference ? null : differenceFinding(difference)),
      }
      output.print(args.has('json') ? JSON.stringify(report(seen), null, 2) : page(seen))
    } finally {
      await file.close()
    }
  },
}

interface Seen {
  readonly art: Art
  readonly assigned: ReadonlyMap<string, Assigned>
  /** How near our picture of the layers is to the file's own, dB; Infinity when equal, null when there is none. */
  readonly psnrDb: number | null
  readonly findings: readonly Finding[]
}

function findingsOf(art: Art, difference: Finding | null): readonly Finding[] {
  const all = [...art.findings, ...assumptions(art), ...art.layers.flatMap(layer => layer.findings)]
  return difference === null ? all : [...all, difference]
}

function report({ art, assigned, psnrDb, findings }: Seen): object {
  const flat = art.layers.find(layer => layer.kind === 'flat')
  return {
    name: art.name,
    format: art.format,
    width: art.width,
    height: art.height,
    resolutionPpi: art.resolutionPpi,
    ...sizeMm(art),
    colorMode: art.colorMode,
    depth: art.depth,
    profile: art.profile?.name ?? null,
    layers: realLayers(art).map(layer => ({
      id: layer.id,
      name: layer.name,
      kind: layer.kind,
      parent: layer.parent,
      bounds: layer.box,
      visible: layer.visible,
      opacity: layer.opacity,
      fillOpacity: layer.fillOpacity,
      blendMode: layer.blendMode,
      clipped: layer.clipped,
      hasMask: layer.mask !== null,
      hasVectorMask: layer.vectorMask !== null,
      text: layer.text?.value ?? null,
      effects: layer.effects,
      adjustment: layer.adjustment,
      ...part(assigned.get(`layer ${layer.id}`)),
    })),
    /** The picture of a file without layers plays one part as a whole. */
    flat: flat === undefined ? null : part(assigned.get(`layer ${flat.id}`)),
    channels: art.channels.map(channel => ({
      id: channel.id,
      name: channel.name,
      kind: channel.kind,
      ink: channel.ink,
      opacity: channel.opacity,
      ...part(assigned.get(`channel ${channel.id}`)),
    })),
    paths: art.paths.map(({ name, clipping }) => ({ name, clipping })),
    composite: {
      present: art.hasComposite,
      psnrDb: psnrDb === null || psnrDb === Infinity ? null : psnrDb,
      equal: psnrDb === Infinity,
    },
    findings,
  }
}

function part(assigned: Assigned | undefined): object {
  if (assigned === undefined) return {}
  const { role, reason, amount, amountReason, askAmount } = assigned
  return { role, reason, amount, amountReason, askAmount }
}

const realLayers = (art: Art): readonly Layer[] => art.layers.filter(layer => layer.kind !== 'flat')

function sizeMm({ width, height, resolutionPpi }: Art): { widthMm: number | null; heightMm: number | null } {
  const mm = (pixels: number) =>
    resolutionPpi === null ? null : Number(((pixels / resolutionPpi) * 25.4).toFixed(3))
  return { widthMm: mm(width), heightMm: mm(height) }
}

function page(seen: Seen): string {
  const { art } = seen
  return [head(art, seen.psnrDb), layerTable(seen), channelTable(seen), findingList(seen.findings)]
    .filter(text => text !== '')
    .join('\n\n')
}

function head(art: Art, psnrDb: number | null): string {
  const { widthMm, heightMm } = sizeMm(art)
  const ppi = art.resolutionPpi === null ? 'not stated' : `${Number(art.resolutionPpi.toFixed(3))} ppi`
  const finished = widthMm === null ? '' : `, ${decimals(widthMm, 1)} × ${decimals(heightMm!, 1)} mm`
  const rows = [
    ['Size', `${art.width} × ${art.height} px${finished}`],
    ['Resolution', ppi],
    ['Colour', `${art.colorMode}, ${counted(art.depth, 'bit')}${art.profile ? `, ${art.profile.name}` : ''}`],
    ['Own picture', ownPicture(art, psnrDb)],
  ]
  return `${art.name}  (${art.format})\n${table(rows, ['left', 'left'], 2)}`
}

function ownPicture(art: Art, psnrDb: number | null): string {
  if (!art.hasComposite) return 'none saved'
  if (psnrDb === null) return 'saved; no layers to compare it with'
  if (psnrDb === Infinity) return 'equals our picture of the layers'
  return `${decimals(psnrDb, 1)} dB from our picture of the layers (40 dB or more looks the same)`
}

function layerTable({ art, assigned }: Seen): string {
  const flat = art.layers.find(layer => layer.kind === 'flat')
  if (flat !== undefined) {
    const found = assigned.get(`layer ${flat.id}`)
    return `No layers; the picture as a whole is ${roleWords(found)}: ${found?.reason ?? ''}`
  }
  const byId = new Map(art.layers.map(layer => [layer.id, layer]))
  const depthOf = (layer: Layer): number => {
    const parent = layer.parent === null ? undefined : byId.get(layer.parent)
    return parent === undefined ? 0 : depthOf(parent) + 1
  }
  // Top of the stack first, as a layer list is read; the file counts from the bottom.
  const rows = art.layers.toReversed().map(layer => {
    const found = assigned.get(`layer ${layer.id}`)
    return [
      `${'  '.repeat(depthOf(layer))}${printable(layer.name)}`,
      kindWords[layer.kind],
      boundsWords(layer),
      roleWords(found),
      whyWords(found),
    ]
  })
  const titles = ['Name', 'Kind', 'Bounds, px', 'Part', 'Why']
  const lines = table([titles, ...rows], ['left', 'left', 'left', 'left', 'left'], 2)
  return `${counted(art.layers.length, 'layer')}, top first\n${lines}`
}

const kindWords: Readonly<Record<Layer['kind'], string>> = {
  group: 'group',
  pixel: 'pixels',
  shape: 'shape',
  fill: 'fill',
  text: 'text',
  adjustment: 'adjustment',
  smartObject: 'placed file',
  flat: 'picture',
}

function boundsWords({ kind, box }: Layer): string {
  if (box.right <= box.left || box.bottom <= box.top) return kind === 'group' ? '' : 'empty'
  return `${box.left}, ${box.top} to ${box.right}, ${box.bottom}`.replaceAll('-', '−')
}

function channelTable({ art, assigned }: Seen): string {
  if (art.channels.length === 0) return ''
  const rows = art.channels.map((channel: Channel) => {
    const found = assigned.get(`channel ${channel.id}`)
    return [
      printable(channel.name),
      channel.kind,
      channel.ink === null ? '' : inkWords(channel.ink),
      channel.opacity === null ? '' : `${decimals(channel.opacity * 100, 0)} %`,
      roleWords(found),
      whyWords(found),
    ]
  })
  const titles = ['Name', 'Kind', 'Ink', 'Solidity', 'Part', 'Why']
  const lines = table([titles, ...rows], ['left', 'left', 'left', 'right', 'left', 'left'], 2)
  return `${counted(art.channels.length, 'channel')} beyond the process colours\n${lines}`
}

function inkWords(ink: InkColor): string {
  const whole = ink.space === 'Lab'
  return `${ink.space} ${ink.values.map(value => decimals(whole ? value : value * 100, 0)).join(' ')}`
}

function roleWords(found: Assigned | undefined): string {
  return found === undefined ? '' : found.role.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`)
}

function whyWords(found: Assigned | undefined): string {
  if (found === undefined) return ''
  const question = found.askAmount
    ? `; ask: ${found.amountReason} (read as ${amountWords(found.amount)})`
    : ''
  return `${found.reason}${question}`
}

function amountWords(amount: Amount): string {
  switch (amount.from) {
    case 'alpha':
      return 'coverage'
    case 'darkness':
      return 'darkness'
    case 'lightness':
      return 'lightness'
    case 'ink':
      return `the ink ${amount.ink}`
    case 'plane':
      return 'its samples'
  }
}

function findingList(findings: readonly Finding[]): string {
  if (findings.length === 0) return 'Nothing to report.'
  const items = findings.map(
    finding => `  ${finding.severity}  ${printable(finding.where)}: ${finding.message}\n    ${finding.fix}`,
  )
  return `${counted(findings.length, 'finding')}\n${items.join('\n')}`
}

/** A name as one line of a terminal, which must not obey it. */
function printable(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return name.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
}
