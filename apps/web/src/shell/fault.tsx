import { Component, type ErrorInfo, type ReactNode } from 'react';

/** Stands in for the program when it breaks: says so and offers to load it again. */
export class Fault extends Component<{ readonly children: ReactNode }, { readonly broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError(): { broken: boolean } {
    return { broken: true };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    console.error(error, info.componentStack);
  }

  override render(): ReactNode {
    if (!this.state.broken) return this.props.children;
    return (
      <main id="main" className="door">
        <h1>This page made a mistake</h1>
        <p>Nothing that was saved is lost.</p>
        <button type="button" className="button" onClick={() => window.location.reload()}>
          Load the page again
        </button>
      </main>
    );
  }
}
