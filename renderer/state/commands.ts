import type { RecentRef } from '../../core/host/files.ts'
import { mostVariants } from '../../core/job/job.ts'
import { applyRig, rigs } from '../../core/job/rigs.ts'
import { addVariant, baseName, chooseVariant, removeVariant } from '../../core/job/variants.ts'
import type { KeyAction } from '../keys.ts'
import { takeArt } from './blank.ts'
import type { Findable } from './find.ts'
import { type Desk, openDemo, openPlates, openRecent } from './open.ts'
import { importOutline } from './outlines.ts'
import { coatsOf } from './stack.ts'
import { inView, type ProofsView, runStart, type State, type View } from './state.ts'
import { decide } from './steps.ts'
import type { Theme } from './theme.ts'

/** Everything that can be done now, by name. */
export interface Command extends Findable {
  readonly group: string
  /** The key that does the same. */
  readonly key?: string
  readonly run: () => void
}

export interface Reach {
  readonly act: (action: KeyAction) => void
  readonly theme: (theme: Theme) => void
}

/** @param act does what a key does */
export function commandsOf(desk: Desk, state: State, { act, theme }: Reach): readonly Command[] {
  const { store } = desk
  const { job, session } = state
  const { art } = session
  const view = (change: Partial<View>) => () => store.set(now => inView(now, change))
  const keyed = (group: string, name: string, key: string, action: KeyAction, words = ''): Command => ({
    group,
    name,
    key,
    words,
    run: () => act(action),
  })
  const always: Command[] = [
    keyed('Job', 'Open art or a job', 'Ctrl O', { do: 'open' }, 'file psd psb pdf svg tiff png jpeg load'),
    {
      group: 'Job',
      name: 'Open a folder of plates',
      words: 'separations one picture a plate tiff png directory',
      run: () => openPlates(desk),
    },
    {
      group: 'Job',
      name: 'Look at the demo carton',
      words: 'example sample halden',
      run: () => openDemo(desk),
    },
    keyed('Window', 'Help', 'F1', { do: 'help' }, 'guide keys manual getting started'),
    { group: 'Window', name: 'Window as bright as the system', words: 'theme', run: () => theme('system') },
    { group: 'Window', name: 'Light window', words: 'theme bright day', run: () => theme('light') },
    { group: 'Window', name: 'Dark window', words: 'theme night', run: () => theme('dark') },
    ...session.recent.map(file => recentCommand(desk, file)),
  ]
  if (job === null || art === null) return always
  const change = (edit: Parameters<typeof decide>[1]) => () => store.set(now => decide(now, edit))
  const { printed, unprinted } = coatsOf(art.art, art.assigned)
  const { variants } = job
  return [
    keyed('Job', 'Save the job', 'Ctrl S', { do: 'save' }, 'keep write file'),
    keyed('Job', 'Save under a new name', 'Shift Ctrl S', { do: 'saveAs' }, 'copy file'),
    keyed('Job', 'Undo', 'Ctrl Z', { do: 'undo' }, 'take back step'),
    keyed('Job', 'Redo', 'Shift Ctrl Z', { do: 'redo' }, 'step forward again'),
    ...(job.art === null
      ? [
          {
            group: 'Job',
            name: 'Lay the first art on this job',
            words: 'import psd pdf svg tiff',
            run: () => void takeArt(desk),
          },
        ]
      : []),
    { group: 'Job', name: 'The brief', words: 'intent wanted customer text', run: view({ sheet: 'brief' }) },
    {
      group: 'Job',
      name: 'Findings',
      words: 'warnings problems of the file',
      run: view({ sheet: 'findings' }),
    },
    {
      group: 'Job',
      name: 'Assumed numbers',
      words: 'measured defaults waviness opacity depth',
      run: view({ sheet: 'assumed' }),
    },
    keyed('Checks', 'Checks: what will go wrong on foil', 'F', { do: 'checks' }, checkWords),
    {
      group: 'Checks',
      name: 'Run the checks',
      words: checkWords,
      run: () => {
        store.set(now => inView(now, { sheet: 'checks' }))
        // Few sittings need it: not in what the first picture waits for.
        void import('./checks.ts').then(({ runChecks }) => runChecks(desk))
      },
    },
    ...sections.map(({ section, name, words }) => ({
      group: 'Checks',
      name,
      words,
      run: () => store.set(now => inView(now, { sheet: 'checks', checks: { ...now.view.checks, section } })),
    })),
    keyed('Proofs', 'Proofs: what others see and sign', 'P', { do: 'proofs' }, 'send out client phone mail'),
    ...proofs.map(({ name, words, ...at }) => ({
      group: 'Proofs',
      name,
      words,
      run: () => store.set(now => inView(now, { sheet: 'proofs', proofs: { ...now.view.proofs, ...at } })),
    })),
    keyed(
      'Table',
      'Panel straight on, whole in view',
      'Home',
      { do: 'reset' },
      'fit centre front flat pose tilt turn',
    ),
    keyed('Table', 'Look closer', '+', { do: 'zoom', factor: 1.25 }, 'zoom in magnify loupe'),
    keyed('Table', 'Step back', '−', { do: 'zoom', factor: 0.8 }, 'zoom out'),
    keyed('Table', 'Brighter by a quarter stop', '.', { do: 'expose', stops: 0.25 }, 'exposure'),
    keyed('Table', 'Darker by a quarter stop', ',', { do: 'expose', stops: -0.25 }, 'exposure'),
    keyed('Table', 'Only the panel', 'B', { do: 'bare' }, 'bare full screen hide strips presentation'),
    keyed(
      'Table',
      'Mark what the screen cannot show',
      'O',
      { do: 'marks' },
      'clipping gamut hatch overexposed',
    ),
    keyed(
      'Table',
      'Lift the leaves apart, or lay them down',
      'L',
      { do: 'lift' },
      'overlay film proof board white overprint',
    ),
    {
      group: 'Table',
      name: 'Print and film proof beside each other',
      words: 'compare overlay leaves laid side by side',
      run: view({ compare: state.view.compare === 'laid' ? null : 'laid' }),
    },
    keyed('Table', 'Read the spot in the middle', 'Enter', { do: 'read' }, 'probe colour lab stack pixel'),
    keyed('Light', 'Play or hold the light run', 'Space', { do: 'play' }, 'animation sweep lamp path'),
    ...job.paths.map((path, index) => ({
      group: 'Light',
      name: `Light run: ${path.name}`,
      words: 'lamp path sweep animation',
      run: () => {
        store.set(now => inView(now, { run: { ...runStart, path: index } }))
        act({ do: 'play' })
      },
    })),
    ...rigs.map(rig => ({
      group: 'Light',
      name: `Light as in: ${rig.name}`,
      words: `${rig.says} rig lamps room booth shop window torch`,
      run: change(applyRig(rig)),
    })),
    ...(['rectangle', 'ellipse', 'polygon'] as const).map(tool => ({
      group: 'Holography',
      name: `Draw an area: ${tool}`,
      words: 'outline shape effect hologram vector',
      run: view({ drawing: tool, marking: null, sheet: null, spot: null }),
    })),
    {
      group: 'Holography',
      name: 'Area from an SVG drawing',
      words: 'import outline path vector effect',
      run: () => void importOutline(desk),
    },
    keyed('Designs', 'Designs side by side', 'C', { do: 'compare' }, 'compare variants versions a b'),
    ...(variants.length < mostVariants
      ? [
          {
            group: 'Designs',
            name: 'Another design of this job',
            words: 'variant version alternative new print-led effect-led',
            run: change(addVariant(freshName(variants.map(one => one.name)))),
          },
        ]
      : []),
    ...(variants.length === 0
      ? []
      : [
          {
            group: 'Designs',
            name: `Design: ${baseName}`,
            words: 'variant',
            run: change(chooseVariant(null)),
          },
          ...variants.map(({ name }, i) => ({
            group: 'Designs',
            name: `Design: ${name}`,
            words: 'variant version',
            run: change(chooseVariant(i)),
          })),
        ]),
    ...(job.variant === null
      ? []
      : [
          {
            group: 'Designs',
            name: `Take away the design ${variants[job.variant]?.name ?? ''}`,
            words: 'remove delete variant',
            run: change(removeVariant(job.variant)),
          },
        ]),
    ...[...printed, ...unprinted].flatMap(coat =>
      coat.members.map(member => ({
        group: 'Stack',
        name: `Card of ${member.name}`,
        words: `layer ${coat.role} plate coat effect`,
        run: view({ card: member.target, bare: false }),
      })),
    ),
    {
      group: 'Stack',
      name: 'Card of the board',
      words: 'foil metal substrate lacquer caliper finished size',
      run: view({ card: 'board', bare: false }),
    },
    ...always,
  ]
}

const checkWords = 'preflight problems faults findings bar code legibility register glare white waive'

const sections = [
  { section: 'limits', name: 'Limits of the checks', words: 'tolerance threshold least most own' },
  { section: 'marks', name: 'Mark areas for the checks', words: 'text code brand colour keep clear' },
] as const

const proofs: readonly (Partial<ProofsView> & { readonly name: string; readonly words: string })[] = [
  {
    name: 'Send a one-file proof',
    words: 'client phone mail html page browser share tilt zip',
    section: 'send',
    send: 'page',
  },
  {
    name: 'Make plates',
    words: 'separations white cmyk varnish dieline tiff pdf overlay film press',
    section: 'send',
    send: 'plates',
  },
  {
    name: 'Make a proof sheet for a meeting',
    words: 'pdf report print paper',
    section: 'send',
    send: 'sheet',
  },
  {
    name: 'Make a movie of a light run',
    words: 'video mp4 webm gif clip slides sales',
    section: 'send',
    send: 'movie',
  },
  {
    name: 'Make pictures to send out',
    words: 'stills png tiff exr contact sheet best darkest glare',
    section: 'send',
    send: 'pictures',
  },
  { name: 'Versions of this job', words: 'compare difference wipe blink history older', section: 'versions' },
  { name: 'Notes on the carton', words: 'comment remark returned answer', section: 'notes' },
  {
    name: 'Sign-off',
    words: 'sign approve approval ok release corrections',
    section: 'signoff',
  },
]

const recentCommand = (desk: Desk, file: RecentRef): Command => ({
  group: 'Lately on the table',
  name: `Open ${file.name}`,
  words: `recent ${file.folder}`,
  run: () => openRecent(desk, file),
})

/** What a further design is called until somebody names it. */
export function freshName(taken: readonly string[]): string {
  const usual = ['Effect-led', 'Print-led', 'More white']
  let n = taken.length + 1
  const free = usual.find(name => !taken.includes(name))
  if (free !== undefined) return free
  while (taken.includes(`Design ${n}`)) n++
  return `Design ${n}`
}
