import { useRef, useState } from 'preact/hooks';
import { stringify } from 'yaml';
import { filesOf } from '../../index.ts';
import { OUTPUT_FILES, type OutputName } from '../engine/protocol.ts';
import { hashOf } from '../link.ts';
import { usePage } from '../parts/context.ts';
import { saveBlob } from '../parts/save.ts';

/** Loading and saving the household, and the link to it. */
export function FilesPanel({ said, take }: { readonly said: readonly string[]; readonly take: (files: FileList) => void }) {
  const page = usePage();
  const { words } = page.speech;
  const picker = useRef<HTMLInputElement>(null);
  const save = (): void => {
    const { draft } = page.chosen;
    const name = String(draft.name ?? 'household').toLowerCase();
    const tidy = name.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '');
    saveBlob(new Blob([scenarioText(draft)], { type: 'text/yaml' }), `${tidy || 'household'}.yaml`);
  };
  return (
    <div class="files">
      <h3>{words.household.file}</h3>
      <input
        ref={picker}
        type="file"
        class="sr"
        tabIndex={-1}
        aria-label={words.household.open}
        accept=".yaml,.yml,.json,.csv,.gz"
        multiple
        onChange={({ currentTarget }) => {
          if (currentTarget.files !== null) take(currentTarget.files);
          currentTarget.value = '';
        }}
      />
      <div class="buttons">
        <button type="button" onClick={() => picker.current?.click()}>
          {words.household.open}
        </button>
        <button type="button" onClick={save}>
          {words.household.save}
        </button>
        <LinkButton />
      </div>
      <p class="hint">{words.household.drop}</p>
      <div role="status" class="taken">
        {said.map((line) => (
          <p class="note" key={line}>
            {line}
          </p>
        ))}
      </div>
    </div>
  );
}

/** A draft as the file that the command reads. */
export const scenarioText = (draft: unknown): string => stringify(draft, { lineWidth: 110 });

function LinkButton() {
  const page = usePage();
  const { input, speech } = page;
  const { words } = speech;
  const [address, setAddress] = useState<{ text: string; copied: boolean } | null>(null);
  const copy = async (): Promise<void> => {
    const text = location.href.replace(/#.*$/, '') + (await hashOf(page.chosen));
    const copied = await navigator.clipboard.writeText(text).then(
      () => true,
      () => false,
    );
    setAddress({ text, copied });
  };
  const hasFiles = input !== null && filesOf(input).length > 0;
  return (
    <>
      <button type="button" onClick={() => void copy()}>
        {words.household.link}
      </button>
      <span role="status" class="note">
        {address === null ? null : address.copied ? (
          words.household.linkCopied
        ) : (
          <label>
            {words.household.linkManual}
            <input type="text" readOnly value={address.text} onFocus={({ currentTarget }) => currentTarget.select()} />
          </label>
        )}
        {address !== null && hasFiles ? ` ${words.household.linkFiles}` : null}
      </span>
    </>
  );
}

/** The command's files, made here. */
export function Outputs({ ask, busy }: { readonly ask: (name: OutputName) => void; readonly busy: boolean }) {
  const { words } = usePage().speech;
  return (
    <section class="outputs" aria-labelledby="outputs-heading">
      <h2 id="outputs-heading">{words.outputs.heading}</h2>
      <p class="hint">{words.outputs.csv}</p>
      <div class="buttons">
        {OUTPUT_FILES.map((name) => (
          <button type="button" key={name} onClick={() => ask(name)}>
            {name}
          </button>
        ))}
      </div>
      <p role="status" class="hint">
        {busy ? words.outputs.preparing : ''}
      </p>
    </section>
  );
}
