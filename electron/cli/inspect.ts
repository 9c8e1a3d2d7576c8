import { basename } from 'node:path'
import { compositeDifference, differenceFinding } from '../../core/art/composite-difference.ts'
import type { Art, ArtPage, Channel, Layer } from '../../core/art/layer.ts'
import type { Finding } from '../../core/base/finding.ts'
import { assumptions } from '../../core/job/new.ts'
import type { Amount, Assigned } from '../../core/roles/role.ts'
import { noDecisions, rolesForJob } from '../art-work.ts'
import { openArt } from '../placed-art.ts'
import { artAsked, artFlags } from './art-flags.ts'
import { inkWords, roleWords as wordsOf } from './channels.ts'
import { type Command, jsonFlag } from './command.ts'
import { printable } from './printable.ts'
import { progressTask } from './progress.ts'
import { counted, decimals, table } from './table.ts'

export const inspect: Command = {
  usage: {
    name: 'inspect',
    says: 'what art holds, and which part each layer plays',
    operands: ['ART'],
    flags: { ...artFlags, ...jsonFlag },
  },
  async run(args, output) {
    const { art: placed, reading } = await artAsked(args.operands[0]!, args)
    const task = progressTask(output, `Reading ${basename(placed.path)}`)
    const { file: art, close } = await openArt(placed, reading, task)
    try {
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
      await close()
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
    page: art.page === undefined ? null : pageReport(art.page),
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
      step: layer.step ?? null,
      inks: layer.inks ?? null,
      shapes: layer.outlines?.length ?? null,
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
      order: channel.order ?? null,
      step: channel.step ?? null,
      layers: channel.layers ?? null,
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

function pageReport({ number, count, trim, bleed, fonts, inexact, readAs }: ArtPage): object {
  return { number, count, trimMm: trim, bleedMm: bleed, fonts, exact: inexact.length === 0, readAs }
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
    ...(art.page === undefined ? [] : pageRows(art.page)),
    ['Size', `${art.width} × ${art.height} px${finished}`],
    ['Resolution', ppi],
    ['Colour', `${art.colorMode}, ${counted(art.depth, 'bit')}${art.profile ? `, ${art.profile.name}` : ''}`],
    ['Own picture', ownPicture(art, psnrDb)],
  ]
  return `${art.name}  (${art.format})\n${table(rows, ['left', 'left'], 2)}`
}

function pageRows({ number, count, trim, fonts, inexact, readAs }: ArtPage): string[][] {
  const missing = fonts.filter(font => !font.embedded).length
  const size = trim && `${decimals(trim[2] - trim[0], 1)} × ${decimals(trim[3] - trim[1], 1)} mm`
  return [
    ...(count > 1 ? [['Page', `${number} of ${count}`]] : []),
    ...(size ? [['Trim', size]] : []),
    ...(fonts.length > 0
      ? [
          [
            'Fonts',
            `${counted(fonts.length, 'font')}, ${missing === 0 ? 'all in the file' : `${missing} missing`}`,
          ],
        ]
      : []),
    ['Inks', inkExactness(inexact.length, readAs)],
  ]
}

function inkExactness(objects: number, readAs: ArtPage['readAs']): string {
  if (readAs === 'layers') return 'not told apart: where layers are painted is read'
  if (objects === 0) return 'every plane exact'
  return `${counted(objects, 'object')} cannot be told exactly; --layers-only reads where layers are painted instead`
}

function ownPicture(art: Art, psnrDb: number | null): string {
  if (art.page !== undefined && realLayers(art).length > 0) return 'drawn: its picture is made of its layers'
  if (!art.hasComposite) return 'none saved'
  if (psnrDb === null) return 'saved; no layers to compare it with'
  if (psnrDb === Infinity) return 'equals our picture of the layers'
  return `${decimals(psnrDb, 1)} dB from our picture of the layers (40 dB or more looks the same)`
}

function layerTable({ art, assigned }: Seen): string {
  const flat = art.layers.find(layer => layer.kind === 'flat')
  if (flat !== undefined && art.layers.length === 1) {
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

const roleWords = (found: Assigned | undefined): string => (found === undefined ? '' : wordsOf(found.role))

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
