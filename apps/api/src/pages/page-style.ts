/** The style of the plain pages: phone first, large targets, contrast of at least 4.5 : 1 in light and dark. */
export const PAGE_STYLE = `:root { color-scheme: light dark; --ink: #16222b; --paper: #ffffff; --line: #5b6b76; --soft: #eef2f4; --act: #0b5563; --act-ink: #ffffff; --warn: #7a3b00; --warn-paper: #fff3e2; }
@media (prefers-color-scheme: dark) { :root { --ink: #edf2f5; --paper: #10181e; --line: #9fb0bb; --soft: #1c2830; --act: #8fd6e3; --act-ink: #06262c; --warn: #ffcf99; --warn-paper: #33200b; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1.0625rem/1.5 system-ui, sans-serif; }
header, main { max-width: 40rem; margin: 0 auto; padding: 0.75rem 1rem; }
.mark { margin: 0; font-weight: 700; letter-spacing: 0.02em; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 0.25rem 0 0.75rem; }
h2 { font-size: 1.15rem; margin: 1.5rem 0 0.5rem; }
dl { margin: 0; } dt { font-weight: 600; } dd { margin: 0 0 0.75rem; }
fieldset, section.item { min-width: 0; border: 1px solid var(--line); border-radius: 0.5rem; margin: 0 0 1rem; padding: 0.75rem 1rem; }
legend { font-weight: 600; padding: 0 0.25rem; }
label { display: block; padding: 0.25rem 0; } .choice { display: flex; align-items: flex-start; min-height: 2.75rem; padding-top: 0.6rem; } .choice input { flex: none; margin-top: 0.1rem; } input[type="checkbox"], input[type="radio"] { width: 1.35rem; height: 1.35rem; vertical-align: -0.25rem; margin-right: 0.5rem; }
input[type="text"], input[type="date"], input[type="number"], textarea, select { width: 100%; min-height: 2.75rem; padding: 0.5rem; font: inherit; color: inherit; background: var(--paper); border: 1px solid var(--line); border-radius: 0.375rem; }
button { min-height: 3rem; padding: 0.5rem 1.25rem; font: inherit; font-weight: 600; color: var(--act-ink); background: var(--act); border: 2px solid var(--act); border-radius: 0.5rem; cursor: pointer; }
button.plain { color: var(--act); background: transparent; }
:focus-visible { outline: 3px solid var(--act); outline-offset: 2px; }
.caution { background: var(--warn-paper); color: var(--warn); border-left: 0.4rem solid var(--warn); padding: 0.75rem 1rem; margin: 0 0 0.75rem; }
.done { background: var(--soft); border-left: 0.4rem solid var(--act); padding: 0.75rem 1rem; }
.caution ul, dd ul { margin: 0; padding-left: 1.2rem; } .caution a { color: inherit; } .caution.fault { display: block; margin: 0.25rem 0; padding: 0.25rem 0.5rem; }
h3 { font-size: 1.0625rem; margin: 0 0 0.5rem; } .item p:last-child { margin-bottom: 0; } dd { overflow-wrap: anywhere; }
.small { font-size: 0.9rem; } .actions { display: flex; flex-wrap: wrap; gap: 0.75rem; margin: 1rem 0; }
`;
