"""Model -> network -> operating states.

Input: `Model`. Output: `Network` (nodes and edges, whatever the topology) and `StatePlan` (a parent map and order for
every operating state). Not its job: any electrical quantity other than the voltage system of each node.
"""
