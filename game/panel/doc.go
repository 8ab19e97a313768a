//go:build js

// Package panel fills the page's words, forms and tables from a game and turns
// clicks on them into acts. The page's skeleton is wasm/index.html; everything
// that comes from data is set as text, never as markup.
//
// Handles for tests, all stable:
//
//	globalThis.brinebenchReady    true once the panels have been filled
//	globalThis.brinebenchDrawn    true once the canvas has been drawn
//	html[data-state=ready|failed] failed: a message has replaced the page (#failure-title, #failure-text)
//	main[data-busy]               an act is under way
//	main[data-closed]             the call has been finished
//	main[data-debrief]            the debrief is shown ("running", "ready", "failed")
//	[data-show=S]                 shows section S: call unit tests readings parts charts log cause practice debrief
//	section[data-section=S]       the section; class "current" when shown
//	[data-act=A]                  a control of the unit: start-regeneration advance plug unplug
//	                              bypass-service bypass-bypass bypass-shut supply-open supply-shut
//	                              house-tap-shut house-tap-half house-tap-open
//	                              raw-tap-shut raw-tap-half raw-tap-open (aria-pressed tells what is so)
//	[data-act-at=A]               the same beside the part selected
//	[data-act=next-event]         runs to the next event; aria-pressed while it does
//	a[data-call=ID]               opens a call of the ladder; li[data-standing=new|due|learned] around it
//	[data-act=next-call]          opens the call to play next
//	#support                      how much the page tells; main[data-support=full|some|little|none]
//	[data-act=progress-export] #progress-file    the record of one's plays to a file, and from one
//	[data-act=progress-forget], then [data-act=progress-forget-yes] or [data-act=progress-forget-no]
//	#practice-said #practice-trouble             what came of that; why the browser does not keep it
//	[data-pace=P]                 pace 0 1 10 60 600; aria-pressed on the one chosen
//	[data-test=ID]                makes the test ID ([data-test-at=ID]: the same, beside a part)
//	#tests-search #cause-search   find a test, a cause; details[data-fold=NAME] a group of them
//	[data-needs][data-idle]       a test whose need is not met as the unit stands
//	[data-part=ID]                selects the part ID; aria-pressed on the one selected
//	[data-act=part-open|part-refit|part-clean|part-set|part-replace]   work on the selected part (in #part)
//	[data-act=bail] [data-act=disinfect]   the brine tank bailed out; bleach into its well
//	#readings tbody tr            newest first: data-instrument; cells time, test, result
//	#log li                       newest first: data-kind is the act's kind, data-unsafe when stopped
//	#interview [data-test-at=ID]  asks the customer; [data-answer=ID] what was said last
//	#suspect #expected [data-act=plan]   begin a line of the work order; li[data-line=N]
//	[data-conclude=C][data-of-line=N]    concludes from its result: for, against, neither
//	[data-act=demo] [data-act=demo-stop]   an expert plays the call; li[data-reason=N], [data-demo-at=N] in #demo
//	[data-help=ID]                takes the next step of help: area, function, test, answer
//	[data-grease=ID]              lubricates the selected part: silicone, petroleum
//	[data-tell=ID]                tells the customer
//	input[name=fault][value=ID]   a cause ("none": nothing is wrong); #confidence 0..100; [data-act=diagnose]
//	[data-act=finish], then [data-act=finish-yes] or [data-act=finish-no]
//	#debrief [data-score]         the score, 0..100; [data-item=NAME] a row of it
//	li[data-weighed=ID]           what a reading ruled out and raised
//	[data-weighed-line=N]         what it did to line N of the work order; data-fits=yes|no where a conclusion was drawn
//	#debrief tr[data-turn]        a step at which a cause was named or the unit repaired; .turn the same in the chart
//	[data-expert]                 the expert's score; #takeaway what one takes away; [data-act=print]
//	[data-act=cancel-debrief] [data-act=judge-again] [data-act=play-again]
//	[data-kept=back|aside]        a call was brought back, or could not be: [data-act=start-anew] then [data-act=start-anew-yes],
//	                              [data-act=kept-close] [data-act=aside-save] [data-act=aside-forget]
//	#replay-at                    slider over the finished call; [data-act=replay-play|replay-before|replay-after|replay-end], #replay-pace;
//	                              main[data-replay] while an earlier moment is shown; main[data-hash] of the finished call's state
//	a[data-once-more=seed|alike]  the same call with another seed, another call that sounds alike
//	[data-act=fold]               folds the drawing away on a small screen
//	#live                         polite live region; #alert: an act stopped as unsafe
//	#time-clock #time-station #time-used #time-reached         the time bar's words
//	[data-units=us|si] [data-theme-choice=light|dark] [data-speak=en|es]   switches
package panel
