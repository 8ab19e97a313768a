# Two commands: make run, make test. The work is in .ci/.
.PHONY: run test

run:
	@.ci/with-go .ci/build
	@mkdir -p .data
	@exec build/brinebench serve -dir build/site -data .data/class.db $(if $(ADDR),-addr $(ADDR),$(if $(PORT),-addr localhost:$(PORT)))

test:
	@.ci/with-go .ci/test
