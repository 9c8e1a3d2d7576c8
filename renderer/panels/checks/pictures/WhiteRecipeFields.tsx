import { recipeRanges, type WhiteRecipe } from '../../../../core/checks/white/recipe.ts'
import { NumberField } from '../../NumberField.tsx'

/** Something that a white can take notice of. */
export interface Choosable {
  readonly id: string
  readonly name: string
  readonly says: string
}

interface Props {
  readonly recipe: WhiteRecipe
  /** Layers with ink. */
  readonly printed: readonly Choosable[]
  /** Layers with holography. */
  readonly foil: readonly Choosable[]
  /** Marked areas that can be white throughout. */
  readonly patches: readonly (Choosable & { readonly box: WhiteRecipe['patches'][number]['box'] })[]
  readonly onChange: (recipe: WhiteRecipe) => void
}

/** What a white is made of: what it lies under, where foil shows through it, patches, and how it follows edges. */
export function WhiteRecipeFields({ recipe, printed, foil, patches, onChange }: Props) {
  const { design } = recipe
  const redesign = (change: Partial<WhiteRecipe['design']>) =>
    onChange({ ...recipe, design: { ...design, ...change } })
  const number = (
    key: keyof WhiteRecipe['design'],
    label: string,
    unit: string,
    step: number,
    digits: number,
    says: string,
  ) => (
    <NumberField
      label={label}
      says={says}
      unit={unit}
      value={design[key]}
      min={recipeRanges[key][0]}
      max={recipeRanges[key][1]}
      step={step}
      digits={digits}
      onChange={value => redesign({ [key]: value })}
    />
  )
  return (
    <div className="recipe">
      <Boxes
        legend="White under"
        none="The art has no layer with ink."
        choices={printed}
        chosen={recipe.under}
        onChosen={under => onChange({ ...recipe, under })}
      />
      <Boxes
        legend="Foil shows through it at"
        none="The art has no layer with holography."
        choices={foil}
        chosen={recipe.knockOut}
        onChosen={knockOut => onChange({ ...recipe, knockOut })}
      />
      <Boxes
        legend="Solid white behind"
        none="Nothing is marked as a code, as text or as a brand colour: Marks is where that is done."
        choices={patches}
        chosen={recipe.patches.map(({ name }) => name)}
        onChosen={names =>
          onChange({
            ...recipe,
            patches: patches
              .filter(({ id }) => names.includes(id))
              .map(({ id: name, box }) => ({ name, box })),
          })
        }
      />
      <div className="fields three">
        {number(
          'chokeMm',
          'Choke',
          'mm',
          0.05,
          2,
          'How far the white stays inside the edge of what lies above it',
        )}
        {number('spreadMm', 'Beyond patches', 'mm', 0.1, 1, 'How far the white reaches beyond a marked area')}
        {number(
          'chokeFromPt',
          'Choked from',
          'pt',
          1,
          0,
          'Smaller type keeps its edge: a choke would eat its strokes',
        )}
      </div>
    </div>
  )
}

function Boxes({
  legend,
  none,
  choices,
  chosen,
  onChosen,
}: {
  readonly legend: string
  readonly none: string
  readonly choices: readonly Choosable[]
  readonly chosen: readonly string[]
  readonly onChosen: (chosen: readonly string[]) => void
}) {
  return (
    <fieldset className="boxes">
      <legend>{legend}</legend>
      {choices.length === 0 ? <p className="quiet">{none}</p> : null}
      <div>
        {choices.map(({ id, name, says }) => (
          <label key={id} title={says}>
            <input
              type="checkbox"
              checked={chosen.includes(id)}
              onChange={event =>
                onChosen(event.target.checked ? [...chosen, id] : chosen.filter(one => one !== id))
              }
            />
            <span>{name}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
