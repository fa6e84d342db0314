import { Component, type ReactNode } from 'react';
import { words } from '../strings/frame.ts';
import { Head } from './Section.tsx';

interface Props {
  /** Another place is another try. */
  readonly place: string;
  readonly children: ReactNode;
}

/** A page whose code fails, or does not come, says so instead of leaving nothing. React asks for a class here. */
export class PageProblem extends Component<Props, { readonly failedAt: string | null }> {
  override state = { failedAt: null };

  static getDerivedStateFromError(): { failedAt: string } {
    return { failedAt: window.location.pathname };
  }

  override componentDidUpdate(before: Props) {
    if (this.state.failedAt !== null && before.place !== this.props.place) this.setState({ failedAt: null });
  }

  override render() {
    if (this.state.failedAt === null) return this.props.children;
    return (
      <Head margin={words.brokenMargin}>
        <h1 className="verdict">{words.notDrawn}</h1>
        <p className="say">{words.notDrawnWhy}</p>
        <div className="does">
          <button type="button" className="main" onClick={() => window.location.reload()}>
            {words.loadAgain}
          </button>
        </div>
      </Head>
    );
  }
}
