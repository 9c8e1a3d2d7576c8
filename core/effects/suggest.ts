import type { Art, ArtFile, Layer } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import { ancestorsOf, leavesOf } from '../roles/members.ts'
import type { Target } from '../roles/role.ts'
import { countTones, isRainbow } from '../roles/tones.ts'
import { findTerms } from '../roles/words.ts'
import type { EffectSpec } from './effect.ts'
import { effectKind } from './kinds.ts'

export interface EffectSuggestion {
  readonly effect: EffectSpec
  /** Why, in words a designer reads. */
  readonly reason: string
  /** The layer, group or channel that said so: rings of a group share its middle. */
  readonly from: Target
}

/** Words for the look of an effect, in the languages of the role table; written as there. */
const looks: readonly (readonly [string, readonly string[]])[] = [
  [
    'concentric',
    [
      ...[
        'ring',
        'rings',
        'circle',
        'circles',
        'circular',
        'concentric',
        'lens',
        'lenses',
        'target',
        'ripple',
        'ripples',
      ],
      ...[
        'kreis',
        'kreise',
        'ringe',
        'linse',
        'linsen',
        'konzentrisch*',
        '*ringe',
        'anneau',
        'anneaux',
        'cercle',
        'cercles',
      ],
      ...[
        'lentille',
        'concentrique',
        'anillo',
        'anillos',
        'círculo',
        'círculos',
        'lente',
        'concéntrico',
        'anello',
      ],
      ...[
        'anelli',
        'cerchio',
        'cerchi',
        'concentrico',
        'anel',
        'anéis',
        'concêntrico',
        'cirkel',
        'cirkels',
        'ringen',
      ],
      ...[
        'lens',
        'pierścień',
        'pierścienie',
        'okrąg',
        'okręgi',
        'soczewka',
        '輪',
        '円',
        '同心円',
        'リング',
        'レンズ',
      ],
      ...['环', '環', '圆', '圓', '同心', '透镜', '透鏡'],
    ],
  ],
  [
    'radial',
    [
      ...[
        'sunburst',
        'burst',
        'rays',
        'ray',
        'radial',
        'starburst',
        'beams',
        'fan',
        'strahl*',
        'strahlen',
        '*strahlen',
      ],
      ...[
        'sonnenstrahl*',
        'rayon',
        'rayons',
        'soleil',
        'rayo',
        'rayos',
        'radiante',
        'raggi',
        'raggiera',
        'raios',
      ],
      ...['stralen', 'zonnestralen', 'promienie', 'promienisty', '放射', '光線', '光芒', '射线', '太阳光'],
    ],
  ],
]

/**
 * The effect a holography layer starts with: what its name or its group's says, else the colours it is drawn in,
 * else a plain grating.
 * @param painted the layers whose colours count
 */
export async function suggestEffect(
  file: ArtFile,
  target: Target,
  painted: readonly Layer[] = leavesOf(file.art, target.id),
  task?: Task,
): Promise<EffectSuggestion> {
  const named = fromNames(file.art, target)
  if (named) return named
  if (target.kind === 'layer') {
    const inner = task?.signal ? { signal: task.signal } : undefined
    if (isRainbow(await countTones(file, painted, inner)))
      return suggestion(
        'coded',
        'drawn in rainbow colours: each hue asks for the pitch that shows it',
        target,
      )
  }
  return suggestion('plain', 'nothing says more: one grating all over', target)
}

function fromNames(art: Art, target: Target): EffectSuggestion | null {
  if (target.kind === 'channel') {
    const channel = art.channels.find(one => one.id === target.id)
    return channel ? fromName(channel.name, 'name', target) : null
  }
  const layer = art.layers.find(one => one.id === target.id)
  if (!layer) return null
  const own = fromName(layer.name, 'name', target)
  if (own) return own
  for (const group of ancestorsOf(art, layer)) {
    const found = fromName(group.name, `group "${group.name}"`, { kind: 'layer', id: group.id })
    if (found) return found
  }
  return null
}

function fromName(name: string, where: string, from: Target): EffectSuggestion | null {
  const hit = findTerms(name, looks).find(one => !one.behind)
  return hit ? suggestion(hit.value, `${where} has "${hit.words}"`, from) : null
}

function suggestion(kind: string, reason: string, from: Target): EffectSuggestion {
  return { effect: { kind, parameters: effectKind(kind).defaults }, reason, from }
}
